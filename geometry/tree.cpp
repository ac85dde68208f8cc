#include "geometry/tree.h"

#include <limits>

#include "geometry/tolerances.h"
#include "geometry/tree_kernel.h"
#include "geometry/tree_layout.h"

namespace standpoint {
namespace {

constexpr double kStop = -std::numeric_limits<double>::infinity();

double error_of(const RoundCone& cone, const tree::Layout& layout) {
  return tolerance::margin_error(layout.origin.cwiseAbs().maxCoeff() + layout.half_extent +
                                 cone.start.cwiseAbs().maxCoeff() + cone.end.cwiseAbs().maxCoeff());
}

/// Stops at the first triangle whose margin is not surely at least `margin`.
class BlockerSearch final : public tree::Visitor {
 public:
  BlockerSearch(const tree::Layout& layout, const RoundCone& cone, double margin)
      : layout_(layout), cone_(cone), margin_(margin + error_of(cone, layout)) {}

  double visit(std::uint32_t triangle) override {
    if (nearest_on_triangle(cone_, layout_.corners(triangle)).margin >= margin_) return margin_;
    blocker_ = triangle;
    return kStop;
  }
  [[nodiscard]] double margin() const { return margin_; }
  [[nodiscard]] std::optional<std::uint32_t> blocker() const { return blocker_; }

 private:
  const tree::Layout& layout_;
  const RoundCone& cone_;
  double margin_;
  std::optional<std::uint32_t> blocker_;
};

/// Keeps the triangle with the least margin; of equal ones the first.
class NearestSearch final : public tree::Visitor {
 public:
  NearestSearch(const tree::Layout& layout, const RoundCone& cone, double below)
      : layout_(layout), cone_(cone), below_(below) {}

  double visit(std::uint32_t triangle) override {
    const Nearest nearest = nearest_on_triangle(cone_, layout_.corners(triangle));
    const bool is_less = found_ ? nearest.margin < nearest_.margin ||
                                      (nearest.margin == nearest_.margin && triangle < triangle_)
                                : nearest.margin < below_;
    if (is_less) {
      found_ = true;
      nearest_ = nearest;
      triangle_ = triangle;
    }
    return found_ ? nearest_.margin : below_;
  }
  [[nodiscard]] std::optional<Contact> contact() const {
    if (!found_) return std::nullopt;
    const BodyId body = layout_.body_of(triangle_);
    return Contact{nearest_, body, layout_.in_body(triangle_, body)};
  }

 private:
  const tree::Layout& layout_;
  const RoundCone& cone_;
  double below_;
  bool found_ = false;
  Nearest nearest_;
  std::uint32_t triangle_ = 0;
};

/// Tells every triangle below a fixed margin.
class Enumeration final : public tree::Visitor {
 public:
  Enumeration(const tree::Layout& layout, const RoundCone& cone, double below,
              const std::function<void(const Contact&)>& found)
      : layout_(layout), cone_(cone), below_(below), found_(found) {}

  double visit(std::uint32_t triangle) override {
    const Nearest nearest = nearest_on_triangle(cone_, layout_.corners(triangle));
    if (nearest.margin < below_) {
      const BodyId body = layout_.body_of(triangle);
      found_({nearest, body, layout_.in_body(triangle, body)});
    }
    return below_;
  }

 private:
  const tree::Layout& layout_;
  const RoundCone& cone_;
  double below_;
  const std::function<void(const Contact&)>& found_;
};

}  // namespace

struct Tree::Parts {
  tree::Layout layout;
};

Tree::Tree(std::vector<const Mesh*> bodies)
    : parts_(std::make_unique<const Parts>(Parts{tree::build(std::move(bodies))})) {}
Tree::~Tree() = default;
Tree::Tree(Tree&&) noexcept = default;
Tree& Tree::operator=(Tree&&) noexcept = default;

bool Tree::is_clear(const RoundCone& cone, double margin, BlockerHint* hint) const {
  const tree::Layout& layout = parts_->layout;
  BlockerSearch search(layout, cone, margin);
  if (hint != nullptr && hint->slot < layout.first_of_body.back() &&
      search.visit(hint->slot) == kStop) {
    return false;
  }
  tree::walk(layout, tree::make_probe(layout, cone), search.margin(), search);
  if (hint != nullptr && search.blocker()) hint->slot = *search.blocker();
  return !search.blocker();
}

std::optional<Contact> Tree::nearest(const RoundCone& cone, double below) const {
  const tree::Layout& layout = parts_->layout;
  NearestSearch search(layout, cone, below);
  tree::walk(layout, tree::make_probe(layout, cone), below, search);
  return search.contact();
}

void Tree::for_each_within(const RoundCone& cone, double below,
                           const std::function<void(const Contact&)>& found) const {
  const tree::Layout& layout = parts_->layout;
  Enumeration enumeration(layout, cone, below, found);
  tree::walk(layout, tree::make_probe(layout, cone), below, enumeration);
}

std::array<Vec3, 3> Tree::corners(BodyId body, TriangleId triangle) const {
  return mesh(body).corners(triangle.index);
}

const Mesh& Tree::mesh(BodyId body) const {
  return *parts_->layout.bodies[body.index];
}

std::size_t Tree::triangle_count() const {
  return parts_->layout.first_of_body.back();
}

std::size_t Tree::bytes() const {
  const tree::Layout& layout = parts_->layout;
  return layout.nodes.capacity() * sizeof(tree::Node) +
         layout.blocks.capacity() * sizeof(tree::Block);
}

}  // namespace standpoint
