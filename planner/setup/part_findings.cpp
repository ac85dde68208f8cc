#include "planner/setup/part_findings.h"

#include <algorithm>
#include <cmath>
#include <deque>
#include <map>

#include "planner/model/tolerances.h"
#include "planner/network/chi_square.h"
#include "planner/setup/row_tests.h"

namespace standpoint {
namespace {

/// Chance that a sound list has a finding of one family.
constexpr double kFamilyLevel = 0.01;
/// Radii of targets are hundreds of standard uncertainties apart: nothing is lost by so much room.
constexpr double kByChance = 1 - 1e-5;
/// Share of a difference of radii that the part's own form may add to it.
constexpr double kFormShare = 0.02;
/// The same to first order only, where large offsets bend.
constexpr double kRoughShare = 0.15;
constexpr std::size_t kMostFindings = 10;
/// So many of each sort are fitted anew.
constexpr std::size_t kMostTrials = 4;
/// Runs like the likeliest that no target explains, and that hide one which is.
constexpr std::size_t kMostLookedAt = 5000;
constexpr int kMostOffsetSteps = 30;

/// A hypothesis, first to first order, then fitted.
struct Guess {
  PartFinding finding;
  bool is_explained = false;
  [[nodiscard]] double excess() const { return finding.drop - finding.bound; }
};

struct FittedGuess {
  Guess guess;
  PartFitInput input;
  PartFit fit;
};

/// A radius that touches were told to be taken with, and the rows of it.
using Stretch = std::vector<std::size_t>;

class Detective {
 public:
  Detective(const Scene& scene, const std::vector<SeenRow>& seen, const PartFitInput& input,
            const PartFit& fit)
      : scene_(scene), seen_(seen), input_(input), fit_(fit) {}

  PartFindings search() {
    PartFindings found;
    while (found.findings.size() < kMostFindings && fit_.observations > 6) {
      std::vector<Guess> guesses = blunders();
      const std::size_t tried = add_offsets(guesses);
      if (found.findings.empty()) found.runs_tried = tried;
      auto best = best_of(guesses);
      if (!best) break;
      note_shifts(best->fit.world_from_instrument, best->guess.finding);
      found.findings.push_back(std::move(best->guess.finding));
      input_ = std::move(best->input);
      fit_ = std::move(best->fit);
    }
    found.corrected = std::move(input_);
    found.fit = std::move(fit_);
    return found;
  }

 private:
  std::vector<Guess> blunders() {
    const std::vector<RowTest> tests = row_tests(input_, fit_);
    const auto count = std::count_if(tests.begin(), tests.end(),
                                     [](const RowTest& test) { return test.freedoms > 0; });
    std::vector<double> bounds(4, 0);
    for (int freedoms = 1; count > 0 && freedoms <= 3; ++freedoms)
      bounds[static_cast<std::size_t>(freedoms)] =
          chi_square_quantile(freedoms, 1 - kFamilyLevel / static_cast<double>(count));
    std::vector<Guess> guesses;
    for (std::size_t i = 0; i < tests.size(); ++i) {
      if (tests[i].freedoms == 0) continue;
      Guess guess;
      guess.finding.rows = {i};
      guess.finding.freedoms = tests[i].freedoms;
      guess.finding.drop = tests[i].drop;
      guess.finding.bound = bounds[static_cast<std::size_t>(tests[i].freedoms)];
      guess.finding.off_in_world = tests[i].off;
      guess.finding.off = tests[i].off.norm();
      guesses.push_back(std::move(guess));
    }
    keep_likeliest(guesses);
    return guesses;
  }

  static void keep_likeliest(std::vector<Guess>& guesses) {
    std::stable_sort(guesses.begin(), guesses.end(),
                     [](const Guess& a, const Guess& b) { return a.excess() > b.excess(); });
    if (guesses.size() > kMostTrials) guesses.resize(kMostTrials);
    while (!guesses.empty() && guesses.back().excess() <= 0) guesses.pop_back();
  }

  [[nodiscard]] bool is_shifted_by_radius(std::size_t i) const {
    return !input_.left_out[i] && input_.larger[i] == 0 && !seen_[i].nest &&
           !fit_.rows[i].by_radius.isZero(0) && hole_adapter(scene_, seen_[i].target) == nullptr;
  }

  /// Touches that follow each other with the same told target.
  [[nodiscard]] std::vector<Stretch> stretches() const {
    std::vector<Stretch> all;
    for (std::size_t i = 0; i < seen_.size(); ++i) {
      if (!is_shifted_by_radius(i)) continue;
      const bool goes_on = !all.empty() && seen_[all.back().back()].target == seen_[i].target;
      if (!goes_on) all.emplace_back();
      all.back().push_back(i);
    }
    return all;
  }

  /// A run, and the touches that it is a run of.
  struct RunIn {
    OffsetRun run;
    const Stretch* stretch = nullptr;
  };

  /// Adds the likeliest offsets. Returns how many runs were tried.
  std::size_t add_offsets(std::vector<Guess>& guesses) const {
    std::map<TargetId, std::vector<Stretch>> by_target;
    for (Stretch& stretch : stretches())
      by_target[seen_[stretch.front()].target].push_back(std::move(stretch));
    std::size_t tried = 0;
    std::vector<RunIn> runs;
    std::deque<Stretch> wholes;  // they stay where they are as it grows
    for (const auto& [told, all] : by_target) {
      Stretch& whole = wholes.emplace_back();
      for (const Stretch& stretch : all) {
        whole.insert(whole.end(), stretch.begin(), stretch.end());
        tried += stretch.size() * (stretch.size() + 1) / 2;
        for (const OffsetRun& run : runs_of(fit_, stretch))
          if (is_worth_keeping(run)) runs.push_back({run, &stretch});
      }
      if (all.size() < 2) continue;
      ++tried;
      if (const OffsetRun run = all_of(fit_, whole); is_worth_keeping(run))
        runs.push_back({run, &whole});
    }
    if (tried > 0) add_likeliest(runs, tried, guesses);
    return tried;
  }

  /// Of the runs those that drop most, and those that drop most of what a target explains.
  void add_likeliest(std::vector<RunIn>& runs, std::size_t tried,
                     std::vector<Guess>& guesses) const {
    const double bound = chi_square_quantile(1, 1 - kFamilyLevel / static_cast<double>(tried));
    std::stable_sort(runs.begin(), runs.end(),
                     [](const RunIn& a, const RunIn& b) { return a.run.drop > b.run.drop; });
    std::size_t looked_at = 0, others = 0, explained = 0;
    for (const RunIn& one : runs) {
      const bool is_done = others >= kMostTrials && explained >= kMostTrials;
      if (is_done || one.run.drop <= bound || ++looked_at > kMostLookedAt) break;
      Guess guess = guess_of(one.run, part_of(*one.stretch, one.run), kRoughShare);
      // A single touch that no target explains is a blunder, and counted there.
      if (guess.finding.rows.size() == 1 && !guess.is_explained) continue;
      if (++(guess.is_explained ? explained : others) > kMostTrials) continue;
      guess.finding.bound = bound;
      guesses.push_back(std::move(guess));
    }
  }

  /// No bound is lower than that of a single run at the level of all.
  static bool is_worth_keeping(const OffsetRun& run) {
    constexpr double kLowestBound = 6.6;  // chi-square, 1 degree of freedom, 1 %: 6.635
    return run.drop > kLowestBound;
  }

  static Stretch part_of(const Stretch& stretch, const OffsetRun& run) {
    return {stretch.begin() + static_cast<std::ptrdiff_t>(run.first),
            stretch.begin() + static_cast<std::ptrdiff_t>(run.last) + 1};
  }

  [[nodiscard]] Guess guess_of(const OffsetRun& run, const Stretch& rows, double share) const {
    Guess guess;
    PartFinding& finding = guess.finding;
    finding.kind = FindingKind::offset;
    finding.rows = rows;
    finding.told = seen_[rows.front()].target;
    finding.off = run.larger;
    finding.standard = run.standard;
    finding.drop = run.drop;
    explain(share, guess);
    return guess;
  }

  /// The targets of the scene whose radius the offset tells.
  void explain(double share, Guess& guess) const {
    PartFinding& finding = guess.finding;
    const double told = touching_radius(scene_, finding.told);
    const double by_chance = finding.standard * std::sqrt(chi_square_quantile(1, kByChance));
    std::vector<std::pair<double, TargetId>> near;
    for (const TargetId target : all_targets(scene_)) {
      const double larger = touching_radius(scene_, target) - told;
      if (hole_adapter(scene_, target) != nullptr || std::abs(larger) <= tolerance::kNoExtent)
        continue;
      const double off = std::abs(finding.off - larger);
      if (off <= std::max(by_chance, share * std::abs(larger))) near.emplace_back(off, target);
    }
    std::sort(near.begin(), near.end());
    guess.is_explained = !near.empty();
    finding.kind = near.empty() ? FindingKind::offset : FindingKind::wrong_target;
    finding.used.reset();
    finding.also.clear();
    for (const auto& [off, target] : near) {
      if (!finding.used)
        finding.used = target;
      else
        finding.also.push_back(target);
    }
  }

  [[nodiscard]] FittedGuess fitted(Guess guess) const {
    FittedGuess result{std::move(guess), input_, {}};
    PartFinding& finding = result.guess.finding;
    if (finding.kind == FindingKind::blunder) {
      result.input.left_out[finding.rows.front()] = true;
      result.fit = fit_to_part(result.input, fit_.world_from_instrument);
    } else {
      fit_offset(result);
    }
    finding.drop = fit_.chi_square - result.fit.chi_square;
    return result;
  }

  /// Gauss and Newton's way in the one unknown more, the pose fitted anew at each step.
  void fit_offset(FittedGuess& result) const {
    PartFinding& finding = result.guess.finding;
    const auto set = [&](double larger) {
      for (const std::size_t i : finding.rows) result.input.larger[i] = input_.larger[i] + larger;
    };
    double larger = finding.off;
    Pose pose = fit_.world_from_instrument;
    for (int i = 0; i < kMostOffsetSteps; ++i) {
      set(larger);
      result.fit = fit_to_part(result.input, pose);
      pose = result.fit.world_from_instrument;
      const OffsetRun step = all_of(result.fit, finding.rows);
      if (step.standard == 0) break;
      finding.standard = step.standard;
      if (std::abs(step.larger) <= tolerance::kFitStep) break;
      larger += step.larger;
    }
    finding.off = larger;
    explain(kFormShare, result.guess);
    finding.is_all = std::count_if(seen_.begin(), seen_.end(), [&](const SeenRow& row) {
                       const auto i = static_cast<std::size_t>(&row - seen_.data());
                       return is_shifted_by_radius(i) && row.target == finding.told;
                     }) == static_cast<std::ptrdiff_t>(finding.rows.size());
    if (!finding.used) return;
    const double known =
        touching_radius(scene_, *finding.used) - touching_radius(scene_, finding.told);
    const double with_unknown = result.fit.chi_square;
    set(known);
    result.fit = fit_to_part(result.input, pose);
    // Where form adds to the radius, what is known explains not all: what is left may be found
    // next.
    if (!(result.fit.chi_square < fit_.chi_square)) {
      set(larger);
      result.fit = fit_to_part(result.input, pose);
      result.fit.chi_square = with_unknown;
    }
  }

  [[nodiscard]] std::optional<FittedGuess> best_of(const std::vector<Guess>& guesses) const {
    std::vector<FittedGuess> all;
    for (const Guess& guess : guesses) {
      FittedGuess one = fitted(guess);
      const bool is_lone = one.guess.finding.rows.size() == 1 && !one.guess.is_explained &&
                           one.guess.finding.kind != FindingKind::blunder;
      if (one.guess.excess() > 0 && !is_lone) all.push_back(std::move(one));
    }
    const auto greater = [](const FittedGuess& a, const FittedGuess& b) {
      return a.guess.excess() < b.guess.excess();
    };
    if (all.empty()) return std::nullopt;
    auto best = std::max_element(all.begin(), all.end(), greater);
    const double enough = best->guess.excess() - chi_square_quantile(1, kByChance);
    for (auto one = all.begin(); one != all.end(); ++one) {
      const bool is_as_good = one->guess.is_explained && one->guess.excess() >= enough;
      if (!is_as_good) continue;
      if (!best->guess.is_explained || greater(*best, *one)) best = one;
    }
    return std::move(*best);
  }

  void note_shifts(const Pose& corrected, PartFinding& finding) const {
    const Pose& before = fit_.world_from_instrument;
    finding.shift_of_centre = shift_between(corrected, before, Vec3::Zero());
    for (const std::size_t i : finding.rows) {
      const double shift = shift_between(corrected, before, input_.rows[i].read);
      if (i != finding.rows.front() && shift <= finding.shift_of_touch) continue;
      finding.shift_of_touch = shift;
      finding.shifted_row = i;
    }
  }

  const Scene& scene_;
  const std::vector<SeenRow>& seen_;
  PartFitInput input_;
  PartFit fit_;
};

}  // namespace

PartFindings find_wrong_rows(const Scene& scene, const std::vector<SeenRow>& seen,
                             const PartFitInput& input, const PartFit& fit) {
  return Detective(scene, seen, input, fit).search();
}

}  // namespace standpoint
