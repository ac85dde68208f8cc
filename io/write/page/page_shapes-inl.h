#pragma once

#include "standpoint/scene.h"

// A piece of page_scene.cpp: the shapes of features, member by member.

namespace standpoint {

template <class Archive>
void describe(Archive& a, PointFeature& x) {
  a("at", x.at);
  a("normal", x.normal);
  a("holds_all", x.holds_all);
}
template <class Archive>
void describe(Archive& a, PlaneFeature& x) {
  a("points", x.points);
  a("normal", x.normal);
}
template <class Archive>
void describe(Archive& a, HoleFeature& x) {
  a("centre", x.centre);
  a("axis", x.axis);
  a("radius", x.radius);
  a("depth", x.depth);
}
template <class Archive>
void describe(Archive& a, CylinderFeature& x) {
  a("centre", x.centre);
  a("axis", x.axis);
  a("radius", x.radius);
  a("length", x.length);
  a("inside", x.inside);
}
template <class Archive>
void describe(Archive& a, SphereFeature& x) {
  a("centre", x.centre);
  a("toward", x.toward);
  a("radius", x.radius);
}
template <class Archive>
void describe(Archive& a, LineFeature& x) {
  a("from", x.from);
  a("to", x.to);
  a("normal", x.normal);
}
template <class Archive>
void describe(Archive& a, ConeFeature& x) {
  a("centre", x.centre);
  a("axis", x.axis);
  a("radius", x.radius);
  a("half_angle_rad", x.half_angle_rad);
  a("length", x.length);
  a("inside", x.inside);
}
template <class Archive>
void describe(Archive& a, SlotFeature& x) {
  a("centre", x.centre);
  a("axis", x.axis);
  a("along", x.along);
  a("width", x.width);
  a("length", x.length);
  a("depth", x.depth);
}
template <class Archive>
void describe(Archive& a, SurfaceFeature& x) {
  a("body", x.body);
  a("spacing", x.spacing);
  a("share", x.share);
  a("touches", x.touches);
}

}  // namespace standpoint
