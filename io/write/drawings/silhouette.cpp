#include "io/write/drawings/silhouette.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <utility>

namespace standpoint {
namespace {

constexpr int kFine = 4;  // quarter cells in a cell, each way
// A line of the grid's finest width covers 4 to 8 of a cell's 16 quarter cells; it must show.
constexpr double kCoveredShare = 0.2;
constexpr double kThinning = 1.0 / 3;  // of a cell

/// Quarter cells, covered or not, and where they lie.
class Grid {
 public:
  Grid(const Box2& box, double cell) : low_(box.low), fine_(cell / kFine) {
    const Vec2 size = (box.high - box.low) / cell;
    columns_ = static_cast<int>(std::ceil(size.x())) + 1;
    rows_ = static_cast<int>(std::ceil(size.y())) + 1;
    covered_.assign(static_cast<std::size_t>(columns_ * kFine) * (rows_ * kFine), 0);
  }

  [[nodiscard]] int columns() const { return columns_; }
  [[nodiscard]] int rows() const { return rows_; }
  [[nodiscard]] Vec2 to_grid(const Vec2& p) const { return (p - low_) / fine_; }
  /// From cells (not quarter cells), with the middle of the first cell at (0, 0).
  [[nodiscard]] Vec2 from_cells(const Vec2& p) const {
    return low_ + (p + Vec2(0.5, 0.5)) * fine_ * kFine;
  }

  void cover(int x, int y) {
    if (x >= 0 && y >= 0 && x < columns_ * kFine && y < rows_ * kFine)
      covered_[static_cast<std::size_t>(y) * (columns_ * kFine) + x] = 1;
  }

  void cover_row(int y, double from, double to) {
    const double first = std::max(from - 0.5, 0.0);
    const double last = std::min(to - 0.5, columns_ * kFine - 1.0);
    if (y < 0 || y >= rows_ * kFine || first > last) return;  // or too far for an int
    for (int x = static_cast<int>(std::ceil(first)); x <= last; ++x) cover(x, y);
  }

  [[nodiscard]] double share(int column, int row) const {
    if (column < 0 || row < 0 || column >= columns_ || row >= rows_) return 0;
    int count = 0;
    for (int y = row * kFine; y < (row + 1) * kFine; ++y)
      for (int x = column * kFine; x < (column + 1) * kFine; ++x)
        count += covered_[static_cast<std::size_t>(y) * (columns_ * kFine) + x];
    return count / double{kFine * kFine};
  }

 private:
  Vec2 low_;
  double fine_;
  int columns_ = 0, rows_ = 0;
  std::vector<std::uint8_t> covered_;
};

/// The part of a-b within the grid (Liang and Barsky, ACM Trans. Graphics 3(1), 1984), drawn two
/// quarter cells wide.
void cover_line(Grid& grid, Vec2 a, Vec2 b) {
  const Vec2 d = b - a;
  const std::array<double, 2> limit{grid.columns() * double{kFine}, grid.rows() * double{kFine}};
  double from = 0, to = 1;
  for (int axis = 0; axis < 2; ++axis) {
    if (d[axis] == 0) {
      if (a[axis] < 0 || a[axis] > limit[axis]) return;
      continue;
    }
    double enter = -a[axis] / d[axis];
    double leave = (limit[axis] - a[axis]) / d[axis];
    if (enter > leave) std::swap(enter, leave);
    from = std::max(from, enter);
    to = std::min(to, leave);
  }
  if (from > to) return;
  b = a + to * d;
  a += from * d;
  const int steps = static_cast<int>(std::ceil((b - a).cwiseAbs().maxCoeff())) + 1;
  for (int i = 0; i <= steps; ++i) {
    const Vec2 p = a + (b - a) * (i / static_cast<double>(steps));
    const int x = static_cast<int>(std::floor(p.x() - 0.5));
    const int y = static_cast<int>(std::floor(p.y() - 0.5));
    for (const int dy : {0, 1})
      for (const int dx : {0, 1}) grid.cover(x + dx, y + dy);
  }
}

void cover_triangle(Grid& grid, const std::array<Vec2, 3>& corners) {
  const auto [low, high] = std::minmax({corners[0].y(), corners[1].y(), corners[2].y()});
  const double first = std::max(low, 0.0);
  const double last = std::min(high, grid.rows() * double{kFine});
  if (first > last) return;  // outside, and then maybe too far for an int
  for (int y = static_cast<int>(std::floor(first)); y <= last; ++y) {
    const double at = y + 0.5;
    double from = HUGE_VAL, to = -HUGE_VAL;
    for (int i = 0; i < 3; ++i) {
      const Vec2& p = corners[i];
      const Vec2& q = corners[(i + 1) % 3];
      if ((p.y() <= at) == (q.y() <= at)) continue;
      const double x = p.x() + (at - p.y()) / (q.y() - p.y()) * (q.x() - p.x());
      from = std::min(from, x);
      to = std::max(to, x);
    }
    if (from <= to) grid.cover_row(y, from, to);
  }
  for (int i = 0; i < 3; ++i) cover_line(grid, corners[i], corners[(i + 1) % 3]);
}

/// How the contour crosses a square of four middles, by which of its corners are inside (bit 0:
/// bottom left, then round): from which edge to which, edges counted bottom, right, top, left.
struct Way {
  std::size_t from = 0, to = 0;  // equal: no crossing
};
constexpr std::array<std::array<Way, 2>, 16> kWays{{{},
                                                    {{{0, 3}}},
                                                    {{{1, 0}}},
                                                    {{{1, 3}}},
                                                    {{{2, 1}}},
                                                    {{{0, 1}, {2, 3}}},
                                                    {{{2, 0}}},
                                                    {{{2, 3}}},
                                                    {{{3, 2}}},
                                                    {{{0, 2}}},
                                                    {{{3, 0}, {1, 2}}},
                                                    {{{1, 2}}},
                                                    {{{3, 1}}},
                                                    {{{0, 1}}},
                                                    {{{3, 0}}},
                                                    {}}};

/// Follows the contour of the covered share between the cells' middles (marching squares; the two
/// ambiguous cases join the corners, so that a thin sheet aslant stays in one piece). Inside lies
/// left of the way.
class Contour {
 public:
  explicit Contour(const Grid& grid)
      : grid_(grid), columns_(grid.columns() + 2), rows_(grid.rows() + 2) {
    shares_.resize(static_cast<std::size_t>(columns_) * rows_);
    for (int y = 0; y < rows_; ++y)
      for (int x = 0; x < columns_; ++x)
        shares_[index(x, y)] = grid.share(x - 1, y - 1);  // a border of nothing closes all outlines
    next_.assign(shares_.size() * 2, -1);
    for (int y = 0; y + 1 < rows_; ++y)
      for (int x = 0; x + 1 < columns_; ++x) add_square(x, y);
  }

  [[nodiscard]] Outlines outlines() {
    Outlines all;
    for (std::size_t start = 0; start < next_.size(); ++start) {
      if (next_[start] < 0) continue;
      std::vector<Vec2> outline;
      for (int edge = static_cast<int>(start); next_[edge] >= 0;) {
        outline.push_back(grid_.from_cells(crossing(edge) - Vec2(1, 1)));
        edge = std::exchange(next_[edge], -1);
      }
      all.push_back(std::move(outline));
    }
    return all;
  }

 private:
  [[nodiscard]] std::size_t index(int x, int y) const {
    return static_cast<std::size_t>(y) * columns_ + x;
  }
  [[nodiscard]] bool is_in(int x, int y) const { return shares_[index(x, y)] >= kCoveredShare; }
  /// Edges of the net of middles: 2 i runs right from point i, 2 i + 1 up.
  [[nodiscard]] int level(int x, int y) const { return static_cast<int>(2 * index(x, y)); }
  [[nodiscard]] int upright(int x, int y) const { return static_cast<int>(2 * index(x, y) + 1); }

  void add_square(int x, int y) {
    const std::array<int, 4> edges{level(x, y), upright(x + 1, y), level(x, y + 1), upright(x, y)};
    const int kind = (is_in(x, y) ? 1 : 0) | (is_in(x + 1, y) ? 2 : 0) |
                     (is_in(x + 1, y + 1) ? 4 : 0) | (is_in(x, y + 1) ? 8 : 0);
    for (const auto& [from, to] : kWays[kind]) {
      if (from != to) next_[edges[from]] = edges[to];
    }
  }

  [[nodiscard]] Vec2 crossing(int edge) const {
    const int point = edge / 2;
    const int x = point % columns_, y = point / columns_;
    const bool is_upright = edge % 2 == 1;
    const double a = shares_[index(x, y)];
    const double b = shares_[is_upright ? index(x, y + 1) : index(x + 1, y)];
    const double t = (kCoveredShare - a) / (b - a);
    return is_upright ? Vec2(x, y + t) : Vec2(x + t, y);
  }

  const Grid& grid_;
  int columns_, rows_;
  std::vector<double> shares_;
  std::vector<int> next_;
};

double distance_to_chord(const Vec2& p, const Vec2& a, const Vec2& b) {
  const Vec2 d = b - a;
  const double length2 = d.squaredNorm();
  const double t = length2 > 0 ? std::clamp((p - a).dot(d) / length2, 0.0, 1.0) : 0.0;
  return (p - a - t * d).norm();
}

/// Douglas and Peucker, Cartographica 10(2), 1973, with a stack instead of recursion.
std::vector<Vec2> thinned(const std::vector<Vec2>& outline, double tolerance) {
  if (outline.size() < 4) return outline;
  // A closed line has no ends: the first point and the one farthest from it serve.
  std::size_t far = 0;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    if ((outline[i] - outline[0]).squaredNorm() > (outline[far] - outline[0]).squaredNorm())
      far = i;
  }
  std::vector<bool> stays(outline.size() + 1, false);
  const auto at = [&](std::size_t i) -> const Vec2& { return outline[i % outline.size()]; };
  stays[0] = stays[far] = true;
  std::vector<std::pair<std::size_t, std::size_t>> open{{0, far}, {far, outline.size()}};
  while (!open.empty()) {
    const auto [from, to] = open.back();
    open.pop_back();
    std::size_t worst = from;
    double deviation = tolerance;
    for (std::size_t i = from + 1; i < to; ++i) {
      const double d = distance_to_chord(at(i), at(from), at(to));
      if (d > deviation) {
        deviation = d;
        worst = i;
      }
    }
    if (worst == from) continue;
    stays[worst] = true;
    open.emplace_back(from, worst);
    open.emplace_back(worst, to);
  }
  std::vector<Vec2> kept;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    if (stays[i]) kept.push_back(outline[i]);
  }
  return kept;
}

/// The part of the window that the mesh can cover, one cell wider all round.
Box2 covered_box(const Mesh& mesh, const View& view, const Box2& window, double cell) {
  Box2 box{Vec2::Constant(HUGE_VAL), Vec2::Constant(-HUGE_VAL)};
  for (const Vec3& vertex : mesh.vertices) {
    const Vec2 p = view.flat(vertex);
    box.low = box.low.cwiseMin(p);
    box.high = box.high.cwiseMax(p);
  }
  const Vec2 border = Vec2::Constant(cell);
  box.low = box.low.cwiseMax(window.low) - border;
  box.high = box.high.cwiseMin(window.high) + border;
  return box;
}

}  // namespace

Outlines silhouette(const Mesh& mesh, const View& view, const Box2& window, double cell) {
  const Box2 box = covered_box(mesh, view, window, cell);
  if (mesh.triangles.empty() || (box.high.array() <= box.low.array()).any()) return {};
  Grid grid(box, cell);
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    const auto corners = mesh.corners(t);
    cover_triangle(grid, {grid.to_grid(view.flat(corners[0])), grid.to_grid(view.flat(corners[1])),
                          grid.to_grid(view.flat(corners[2]))});
  }
  Outlines outlines;
  for (const auto& outline : Contour(grid).outlines()) {
    std::vector<Vec2> kept = thinned(outline, kThinning * cell);
    if (kept.size() >= 3) outlines.push_back(std::move(kept));
  }
  return outlines;
}

}  // namespace standpoint
