#include "geometry/tree/tree.h"

#include <mutex>
#include <optional>
#include <utility>

#include "geometry/tolerances.h"
#include "geometry/tree/kernel.h"
#include "geometry/tree/layout.h"

namespace standpoint {
namespace {

double error_of(const RoundCone& cone, const tree::Layout& layout) {
  return tolerance::margin_error(layout.origin.cwiseAbs().maxCoeff() + layout.half_extent +
                                 cone.start.cwiseAbs().maxCoeff() + cone.end.cwiseAbs().maxCoeff());
}

/// Tells each triangle by its body.
class Teller final : public tree::Visitor {
 public:
  Teller(const tree::Layout& layout, const std::function<bool(BodyId, TriangleId)>& found)
      : layout_(layout), found_(found) {}

  bool visit(std::uint32_t triangle) override {
    const BodyId body = layout_.body_of(triangle);
    return found_(body, layout_.in_body(triangle, body));
  }

 private:
  const tree::Layout& layout_;
  const std::function<bool(BodyId, TriangleId)>& found_;
};

std::optional<Contact> contact_of(const tree::Layout& layout,
                                  const std::optional<tree::Found>& found) {
  if (!found) return std::nullopt;
  const BodyId body = layout.body_of(found->triangle);
  return Contact{found->nearest, body, layout.in_body(found->triangle, body)};
}

}  // namespace

struct Tree::Parts {
  explicit Parts(std::vector<const Mesh*> bodies)
      : layout(tree::build(std::move(bodies))), links(layout.bodies.size()) {}

  struct Links {
    std::once_flag once;
    std::optional<EdgeLinks> made;
  };

  tree::Layout layout;
  mutable std::vector<Links> links;  ///< of each body
};

Tree::Tree(std::vector<const Mesh*> bodies)
    : parts_(std::make_unique<const Parts>(std::move(bodies))) {}
Tree::~Tree() = default;
Tree::Tree(Tree&&) noexcept = default;
Tree& Tree::operator=(Tree&&) noexcept = default;

bool Tree::is_clear(const RoundCone& cone, double margin, BlockerHint* hint) const {
  const tree::Layout& layout = parts_->layout;
  std::uint32_t block = hint != nullptr ? hint->slot : tree::kNoChild;
  if (!tree::is_blocked(layout, {&cone, margin, error_of(cone, layout)}, block)) return true;
  if (hint != nullptr) hint->slot = block;
  return false;
}

std::vector<bool> Tree::are_clear(std::span<const RoundCone> cones, double margin,
                                  Order order) const {
  const tree::Layout& layout = parts_->layout;
  std::vector<tree::BeamQuery> queries;
  queries.reserve(cones.size());
  for (const RoundCone& cone : cones) queries.push_back({&cone, margin, error_of(cone, layout)});
  std::vector<bool> answers = tree::are_blocked(layout, queries, order == Order::by_target);
  answers.flip();
  return answers;
}

std::optional<Contact> Tree::nearest(const RoundCone& cone, double below) const {
  return contact_of(parts_->layout, tree::find_nearest(parts_->layout, {&cone, below}));
}

std::vector<std::optional<Contact>> Tree::nearest_to_each(std::span<const RoundCone> cones,
                                                          double below) const {
  std::vector<tree::NearestQuery> queries;
  queries.reserve(cones.size());
  for (const RoundCone& cone : cones) queries.push_back({&cone, below});
  std::vector<std::optional<Contact>> contacts;
  contacts.reserve(cones.size());
  for (const auto& found : tree::find_each_nearest(parts_->layout, queries)) {
    contacts.push_back(contact_of(parts_->layout, found));
  }
  return contacts;
}

bool Tree::any_near(const RoundCone& cone, double below,
                    const std::function<bool(BodyId, TriangleId)>& found) const {
  Teller teller(parts_->layout, found);
  return tree::any_within(parts_->layout, cone, below, teller);
}

void Tree::for_each_within(const RoundCone& cone, double below,
                           const std::function<void(const Contact&)>& found) const {
  any_near(cone, below, [&](BodyId body, TriangleId triangle) {
    const Nearest nearest = nearest_on_triangle(cone, corners(body, triangle));
    if (nearest.margin < below) found({nearest, body, triangle});
    return false;
  });
}

std::array<Vec3, 3> Tree::corners(BodyId body, TriangleId triangle) const {
  return mesh(body).corners(triangle.index);
}

const Mesh& Tree::mesh(BodyId body) const {
  return *parts_->layout.bodies[body.index];
}

const EdgeLinks& Tree::edge_links(BodyId body) const {
  Parts::Links& links = parts_->links[body.index];
  std::call_once(links.once, [&] { links.made.emplace(mesh(body)); });
  return *links.made;
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
