#include "io/read/bodies/annotation_pipe.h"

#include <utility>

namespace standpoint {
namespace {

template <class Choice>
Choice read_choice(PipeReader& in, Choice last) {
  const auto choice = in.value<int>();
  if (choice < 0 || choice > static_cast<int>(last)) {
    in.give_up();
    return last;
  }
  return static_cast<Choice>(choice);
}

void write_tolerance(const GeometricTolerance& tolerance, PipeWriter& out) {
  out.value(tolerance.id);
  out.value(static_cast<int>(tolerance.kind));
  out.value(static_cast<int>(tolerance.zone));
  out.value(tolerance.width);
  out.texts(tolerance.datums);
  out.texts(tolerance.modifiers);
  out.plain_vector(tolerance.faces);
  out.value(tolerance.whole_part);
  out.text(tolerance.name);
  out.text(tolerance.text);
  out.text(tolerance.part_file);
}

GeometricTolerance read_tolerance(PipeReader& in) {
  GeometricTolerance tolerance;
  tolerance.id = in.value<std::uint64_t>();
  tolerance.kind = read_choice(in, ToleranceKind::cylindricity);
  tolerance.zone = read_choice(in, ZoneShape::sphere);
  tolerance.width = in.value<double>();
  tolerance.datums = in.texts();
  tolerance.modifiers = in.texts();
  in.plain_vector(tolerance.faces);
  tolerance.whole_part = in.value<bool>();
  tolerance.name = in.text();
  tolerance.text = in.text();
  tolerance.part_file = in.text();
  return tolerance;
}

void write_size(const SizeTolerance& size, PipeWriter& out) {
  out.value(size.id);
  out.text(size.name);
  out.value(size.is_angle);
  out.value(size.nominal.has_value());
  out.value(size.nominal.value_or(0));
  out.value(size.lower);
  out.value(size.upper);
  out.plain_vector(size.faces);
  out.text(size.part_file);
}

SizeTolerance read_size(PipeReader& in) {
  SizeTolerance size;
  size.id = in.value<std::uint64_t>();
  size.name = in.text();
  size.is_angle = in.value<bool>();
  const bool is_told = in.value<bool>();
  const auto nominal = in.value<double>();
  if (is_told) {
    size.nominal = nominal;
  }
  size.lower = in.value<double>();
  size.upper = in.value<double>();
  in.plain_vector(size.faces);
  size.part_file = in.text();
  return size;
}

}  // namespace

void write_annotation(const Annotation& annotation, PipeWriter& out) {
  out.value<std::uint64_t>(annotation.tolerances.size());
  for (const GeometricTolerance& tolerance : annotation.tolerances) {
    write_tolerance(tolerance, out);
  }
  out.value<std::uint64_t>(annotation.not_read.size());
  for (const UnreadTolerance& unread : annotation.not_read) {
    out.value(unread.id);
    out.texts({unread.kind, unread.name, unread.why, unread.part_file});
  }
  out.value<std::uint64_t>(annotation.datums.size());
  for (const DatumFeature& datum : annotation.datums) {
    out.text(datum.letter);
    out.plain_vector(datum.faces);
    out.value(datum.by_targets);
    out.text(datum.part_file);
  }
  out.value<std::uint64_t>(annotation.sizes.size());
  for (const SizeTolerance& size : annotation.sizes) {
    write_size(size, out);
  }
}

Annotation read_annotation_from(PipeReader& in) {
  Annotation annotation;
  for (std::size_t left = in.count(); in.ok() && left > 0; --left) {
    annotation.tolerances.push_back(read_tolerance(in));
  }
  for (std::size_t left = in.count(); in.ok() && left > 0; --left) {
    UnreadTolerance unread;
    unread.id = in.value<std::uint64_t>();
    std::vector<std::string> texts = in.texts();
    texts.resize(4);
    unread.kind = std::move(texts[0]);
    unread.name = std::move(texts[1]);
    unread.why = std::move(texts[2]);
    unread.part_file = std::move(texts[3]);
    annotation.not_read.push_back(std::move(unread));
  }
  for (std::size_t left = in.count(); in.ok() && left > 0; --left) {
    DatumFeature datum;
    datum.letter = in.text();
    in.plain_vector(datum.faces);
    datum.by_targets = in.value<bool>();
    datum.part_file = in.text();
    annotation.datums.push_back(std::move(datum));
  }
  for (std::size_t left = in.count(); in.ok() && left > 0; --left) {
    annotation.sizes.push_back(read_size(in));
  }
  return annotation;
}

}  // namespace standpoint
