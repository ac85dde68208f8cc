// Solves the program with CBC. The one file that calls it: where there is no CBC (WebAssembly),
// another stands for this one.

#include "planner/cover/cover_program.h"
#include "planner/model/tolerances.h"

#include <algorithm>
#include <cmath>
#include <memory>
#include <string>

#include <coin/Cbc_C_Interface.h>

namespace standpoint {
namespace {

struct DeleteModel {
  void operator()(Cbc_Model* model) const { Cbc_deleteModel(model); }
};
using Model = std::unique_ptr<Cbc_Model, DeleteModel>;

/// The rows by variables, as the solver wants them.
struct Compressed {
  std::vector<int> start, row;
  std::vector<double> factor;
};

/// `Row` is anything with `terms`.
template <class Row>
Compressed by_variable(const std::vector<Row>& rows, std::size_t variables) {
  Compressed result;
  result.start.assign(variables + 1, 0);
  for (const Row& row : rows) {
    for (const auto& term : row.terms) ++result.start[term.variable + 1];
  }
  for (std::size_t v = 0; v < variables; ++v) result.start[v + 1] += result.start[v];
  result.row.resize(static_cast<std::size_t>(result.start.back()));
  result.factor.resize(result.row.size());
  std::vector<int> at(result.start.begin(), result.start.end() - 1);
  for (std::size_t r = 0; r < rows.size(); ++r) {
    for (const auto& term : rows[r].terms) {
      const auto slot = static_cast<std::size_t>(at[term.variable]++);
      result.row[slot] = static_cast<int>(r);
      result.factor[slot] = term.factor;
    }
  }
  return result;
}

double or_infinite(int bound) {
  if (bound == BinaryProgram::kNoBound) return std::numeric_limits<double>::infinity();
  if (bound == -BinaryProgram::kNoBound) return -std::numeric_limits<double>::infinity();
  return bound;
}

std::optional<std::vector<char>> rounded(const double* solution, std::size_t variables) {
  if (solution == nullptr) return std::nullopt;
  std::vector<char> values(variables);
  for (std::size_t v = 0; v < variables; ++v) {
    const double nearest = std::round(solution[v]);
    if (!(std::abs(solution[v] - nearest) <= tolerance::kIntegralityError)) return std::nullopt;
    if (nearest != 0 && nearest != 1) return std::nullopt;
    values[v] = nearest == 1;
  }
  return values;
}

}  // namespace

BinaryProgram::Outcome BinaryProgram::minimise(double time_limit_s, int greatest_cost) const {
  const std::size_t variables = cost_.size();
  const Compressed matrix = by_variable(rows_, variables);
  const std::vector<double> lower(is_one_.begin(), is_one_.end()), upper(variables, 1.0),
      cost(cost_.begin(), cost_.end());
  std::vector<double> row_lower, row_upper;
  for (const Row& row : rows_) {
    row_lower.push_back(or_infinite(row.low));
    row_upper.push_back(or_infinite(row.high));
  }

  const Model model(Cbc_newModel());
  Cbc_loadProblem(model.get(), static_cast<int>(variables), static_cast<int>(rows_.size()),
                  matrix.start.data(), matrix.row.data(), matrix.factor.data(), lower.data(),
                  upper.data(), cost.data(), row_lower.data(), row_upper.data());
  for (std::size_t v = 0; v < variables; ++v) Cbc_setInteger(model.get(), static_cast<int>(v));
  Cbc_setLogLevel(model.get(), 0);
  Cbc_setParameter(model.get(), "timeMode", "elapsed");
  Cbc_setParameter(model.get(), "seconds", std::to_string(std::max(time_limit_s, 0.0)).c_str());
  Cbc_solve(model.get());

  Outcome outcome;
  if (Cbc_isProvenInfeasible(model.get()) != 0) {
    outcome.state = State::infeasible;
    return outcome;
  }
  outcome.values = rounded(Cbc_bestSolution(model.get()), variables);
  if (outcome.values && !meets_rows(*outcome.values)) outcome.values.reset();
  const double bound = Cbc_getBestPossibleObjValue(model.get());
  if (std::abs(bound) < 1e9)
    outcome.bound =
        static_cast<int>(std::ceil(bound - tolerance::kProgramBoundError * greatest_cost));
  if (Cbc_isProvenOptimal(model.get()) != 0 && outcome.values) outcome.state = State::optimal;
  return outcome;
}

}  // namespace standpoint
