// The sheet on paper: printed by a browser, read back from the PDF.

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <regex>
#include <sstream>

#include <gtest/gtest.h>
#include <unistd.h>

#include "io/write/page/page_html.h"
#include "tests/io/write/hand_made.h"

namespace standpoint {
namespace {

struct Word {
  double left = 0, top = 0, right = 0, bottom = 0;  ///< points, from the upper left corner
  std::string text;
};

struct PaperPage {
  double width = 0, height = 0;  ///< points
  std::vector<Word> words;

  [[nodiscard]] std::size_t count(const std::string& text) const {
    std::size_t found = 0;
    for (const Word& word : words) found += word.text == text ? 1 : 0;
    return found;
  }
  /// Words that begin with `text`.
  [[nodiscard]] std::size_t count_begun(const std::string& text) const {
    std::size_t found = 0;
    for (const Word& word : words) found += word.text.rfind(text, 0) == 0 ? 1 : 0;
    return found;
  }
};

bool has_command(const std::string& name) {
  return std::system(("command -v " + name + " >/dev/null 2>&1").c_str()) == 0;
}

/// A job that fills pages: sixty more pads at S1, some with names that have no place to break.
struct Job {
  Scene scene = hand_made::scene();
  Plan plan = hand_made::plan();

  Job() {
    // So that the rows are named in their tables and nowhere else.
    scene.walkways.clear();
    FeatureMark mark = plan.stations[0].sight.features[0];
    mark.margin = 300;
    const PlannedFeature planned = plan.features[0];
    for (int i = 0; i < 60; ++i) {
      const FeatureId id(scene.features.size());
      Feature feature = scene.features[0];
      feature.name = "row" + std::to_string(i);
      if (i % 7 == 0) feature.name += std::string(70, 'W');
      scene.features.push_back(feature);
      for (PlannedStation& station : plan.stations) {
        station.sight.features.push_back(mark);
        station.sight.features.back().feature = id;
      }
      plan.features.push_back(planned);
      plan.features.back().feature = id;
      plan.features.back().also_from.clear();
    }
    scene.nests[1].name = std::string(50, 'N');
    scene.full_targets[0].name = std::string(60, 'T');
  }
};

class PrintedSheet : public testing::TestWithParam<const char*> {
 protected:
  void SetUp() override {
    if (!has_command("chromium") || !has_command("pdftotext"))
      GTEST_SKIP() << "needs chromium and pdftotext";
    folder_ = std::filesystem::temp_directory_path() /
              ("print-" + std::to_string(::getpid()) + "-" + GetParam());
    std::filesystem::create_directories(folder_);
  }
  void TearDown() override { std::filesystem::remove_all(folder_); }

  /// The pages of `html` on this test's paper.
  std::vector<PaperPage> print(std::string html) {
    const std::string style = std::string("<style>@page { size: ") + GetParam() + "; }</style>";
    html.insert(html.find("</head>"), style);
    std::ofstream(folder_ / "page.html") << html;
    const std::string at = folder_.string();
    const std::string browser =
        "chromium --headless --no-sandbox --disable-gpu --disable-quic --no-first-run "
        "--disable-background-networking --disable-component-update --disable-sync "
        "--user-data-dir=" +
        at + "/browser --no-pdf-header-footer --print-to-pdf=" + at + "/page.pdf file://" + at +
        "/page.html >" + at + "/browser.log 2>&1";
    if (std::system(browser.c_str()) != 0) ADD_FAILURE() << "the browser failed";
    const std::string reader = "pdftotext -bbox " + at + "/page.pdf " + at + "/words.html";
    if (std::system(reader.c_str()) != 0) ADD_FAILURE() << "no PDF came out";
    return read_words(folder_ / "words.html");
  }

 private:
  static std::vector<PaperPage> read_words(const std::filesystem::path& file) {
    const std::regex page("<page width=\"([0-9.]+)\" height=\"([0-9.]+)\">");
    const std::regex word(
        "<word xMin=\"([-0-9.]+)\" yMin=\"([-0-9.]+)\" xMax=\"([-0-9.]+)\" "
        "yMax=\"([-0-9.]+)\">(.*)</word>");
    std::vector<PaperPage> pages;
    std::ifstream in(file);
    std::smatch match;
    for (std::string line; std::getline(in, line);) {
      if (std::regex_search(line, match, page)) {
        pages.push_back({std::stod(match[1]), std::stod(match[2]), {}});
      } else if (!pages.empty() && std::regex_search(line, match, word)) {
        pages.back().words.push_back({std::stod(match[1]), std::stod(match[2]), std::stod(match[3]),
                                      std::stod(match[4]), match[5]});
      }
    }
    return pages;
  }

  std::filesystem::path folder_;
};

std::string html_of(const Cell& cell, const Plan& plan) {
  return page_html(cell, plan, find_cautions(cell.scene(), plan));
}

/// How tall the word "Where" is set: a browser shrinks a page whose content is too wide.
double height_of_heading(const std::vector<PaperPage>& pages) {
  for (const PaperPage& page : pages) {
    for (const Word& word : page.words) {
      if (word.text == "Where") return word.bottom - word.top;
    }
  }
  return 0;
}

TEST_P(PrintedSheet, FitsThePaperAndKeepsRowsAndHeadsTogether) {
  const Job job;
  const std::vector<PaperPage> pages =
      print(html_of(Cell(job.scene, hand_made::meshes()), job.plan));
  ASSERT_GT(pages.size(), 5u);
  const bool is_a4 = std::string(GetParam()) == "A4";
  constexpr double kMargin = 14 / 25.4 * 72;
  std::size_t rows = 0, places = 0, pages_of_rows = 0, first_pages = 0;
  for (std::size_t p = 0; p < pages.size(); ++p) {
    SCOPED_TRACE(testing::Message() << "page " << p + 1);
    const PaperPage& page = pages[p];
    EXPECT_NEAR(page.width, is_a4 ? 595.3 : 612, 1);
    EXPECT_NEAR(page.height, is_a4 ? 841.9 : 792, 1);
    for (const Word& word : page.words) {
      EXPECT_GE(word.left, kMargin - 1.5) << word.text;
      EXPECT_LE(word.right, page.width - kMargin + 1.5) << word.text;
    }
    // A row's name, its place and its box stay on one page, under the head of its columns.
    const std::size_t begun = page.count_begun("row");
    EXPECT_LE(begun, page.count("point,"));
    places += begun > 0 ? page.count("point,") : 0;
    rows += begun;
    if (begun > 0) {
      ++pages_of_rows;
      EXPECT_GE(page.count("touches"), 1u);
      EXPECT_GE(page.count("actual"), 1u);
    }
    // A station begins a page.
    ASSERT_GT(page.words.size(), 5u);
    if (page.count("station") > 0 && page.words[0].text == "Set-up" &&
        page.words[1].text == "sheet")
      first_pages += page.words[2].text == "of" ? 1 : 0;
  }
  EXPECT_EQ(rows, 60u);
  EXPECT_EQ(places, 61u);  // and that of pad-1
  EXPECT_GT(pages_of_rows, 2u);
  EXPECT_EQ(first_pages, job.plan.stations.size());
}

TEST_P(PrintedSheet, LongNamesDoNotShrinkThePage) {
  const Job job;
  const double plain = height_of_heading(print(html_of(hand_made::cell(), hand_made::plan())));
  EXPECT_GT(plain, 5);
  EXPECT_NEAR(height_of_heading(print(html_of(Cell(job.scene, hand_made::meshes()), job.plan))),
              plain, 0.05);
}

INSTANTIATE_TEST_SUITE_P(Papers, PrintedSheet, testing::Values("A4", "letter"),
                         [](const auto& paper) { return std::string(paper.param); });

}  // namespace
}  // namespace standpoint
