#pragma once

// CAD files for the tests, written with OpenCASCADE's own modeller, whose shapes have known
// surfaces.

#include <filesystem>
#include <string>

namespace standpoint {

/// A box from (0, 0, 0) to (100, 80, 50) with a bore of diameter 30 through it along z at (40, 30),
/// all mm. Written as STEP in `unit` ("MM", "INCH", "M"), so that its numbers are in that unit.
/// Seven faces.
void write_bored_box(const std::filesystem::path& file, const std::string& unit);

/// The same as IGES: its faces, each on its own. `unit` is "MM" or "IN".
void write_bored_box_as_iges(const std::filesystem::path& file, const std::string& unit);

/// The bored box with all its surfaces as splines.
void write_splined_box(const std::filesystem::path& file);

/// The bored box without its top: six faces, no solid.
void write_open_box(const std::filesystem::path& file);

/// A plate from (0, 0, 0) to (120, 80, 30), all mm: at (30, 20) a hole of diameter 12 through it
/// with a counterbore of diameter 20, 8 deep, from the top; at (80, 40) a blind hole of diameter
/// 16, 18 deep, with a drill tip of 118 degrees; at (40, 60) a slot of width 10 and length 30 along
/// x through it; on top at (105, 65) a boss of diameter 14, 12 high. STEP, mm.
void write_worked_plate(const std::filesystem::path& file);

/// A ball of radius 200 about (0, 0, 0), a ring (torus) of radii 100 and 25 about (1000, 0, 0) with
/// its axis along z, and a cone about the z axis through (2000, 0, 0), of radius 60 at z = 0 and 20
/// at z = 120. STEP, mm, three solids.
void write_round_solids(const std::filesystem::path& file);

/// An assembly of two placed instances of one block of 10 x 20 x 30: "pin" moved by (100, 0, 0),
/// and "pin" turned by 90 degrees about z and then moved by (0, 200, 0); and one "plate" of 300 x
/// 300 x 5 where it was made. STEP, mm.
void write_assembly(const std::filesystem::path& file);

/// The same with each part in a STEP file of its own beside `file`, which refers to them.
void write_assembly_of_files(const std::filesystem::path& file);

/// A STEP file with nothing but a line.
void write_loose_edge(const std::filesystem::path& file);

}  // namespace standpoint
