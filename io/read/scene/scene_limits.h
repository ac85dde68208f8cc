#pragma once

#include <cstddef>

#include "io/read/text/value_rules.h"

namespace standpoint {

// What the numbers of a scene file may be. docs/scene.schema.json states the same bounds, and a
// test holds the two together. Lengths are in scene units: a bound that must work for mm and for
// feet alike can only catch what is absurd in all of them.

/// Coordinates: beyond 1e9 units even a double resolves a beam no better than tenths of a
/// micrometre in mm, and the far origin is a mistake.
inline constexpr NumberRule kCoordinate{"a coordinate in scene units", -1e9, 1e9};
/// A length that must not be zero. 1e-9 units is finer than any measurement.
inline constexpr NumberRule kLength{"a length in scene units", 1e-9, 1e9};
inline constexpr NumberRule kLengthOrZero{"a length in scene units", 0, 1e9};
inline constexpr NumberRule kHalfAngle{"an angle in degrees", 0, 90};
/// Of a cone: neither a line nor a plane.
inline constexpr NumberRule kFullAngle{"an angle in degrees", 0.001, 179.999};
/// An acceptance of 180 switches the rule off.
inline constexpr NumberRule kAcceptance{"an angle in degrees", 0, 180};
inline constexpr NumberRule kElevation{"an angle in degrees", -90, 90};
inline constexpr NumberRule kTurn{"an angle in degrees", -360, 360};
/// 1000 mrad is a beam that widens as fast as it goes on: the round cone needs less than 2000.
inline constexpr NumberRule kGrowth{"a growth of the beam's diameter in mrad", 0, 1000};
inline constexpr NumberRule kCoverageFactor{"a coverage factor", 0.1, 100};
inline constexpr NumberRule kUncertainty{"an uncertainty in scene units", 0, 1e9};
inline constexpr NumberRule kUncertaintyRate{"an uncertainty in scene units per metre", 0, 1e6};
inline constexpr NumberRule kPartTemperature{"a temperature in degrees Celsius", -100, 200};
/// What the formula for the index of air holds for (docs/uncertainty.md).
inline constexpr NumberRule kAirTemperature{"a temperature in degrees Celsius", -40, 100};
inline constexpr NumberRule kTemperatureError{"an uncertainty in kelvin", 0, 100};
/// Per kelvin, not in millionths: 11.5 for 11.5e-6 is refused.
inline constexpr NumberRule kExpansion{"a linear expansion per kelvin", 0, 1e-3};
/// In pascal: 1013 for 1013 hPa is refused.
inline constexpr NumberRule kPressure{"a pressure in pascal", 10000, 200000};
inline constexpr NumberRule kPressureError{"an uncertainty in pascal", 0, 100000};
inline constexpr NumberRule kHumidity{"a relative humidity", 0, 1};
inline constexpr NumberRule kWavelength{"a wavelength in micrometres", 0.3, 1.7};
inline constexpr NumberRule kGradientError{"an uncertainty in kelvin per metre", 0, 1000};
/// Not a currency: what one station costs against another.
inline constexpr NumberRule kCost{"a cost above zero", 1e-6, 1e6};
/// Of a surface's touches that are enough.
inline constexpr NumberRule kShare{"a fraction of 1", 1e-6, 1};
/// Of a CAD file's face; more than a file has.
inline constexpr NumberRule kFaceNumber{"the number of a face", 1, 1e9};
/// Three features of one point each hold less than the six motions of a part.
inline constexpr NumberRule kAlignmentCount{"a whole number of features", 1, 100};
inline constexpr NumberRule kTouchCount{"a whole number of touches", 1, 1000};
inline constexpr NumberRule kStationCount{"a whole number of stations", 1, 100};
/// Fewer than three nests are always in one line and tie nothing.
inline constexpr NumberRule kSharedNests{"a whole number of nests", 3, 1000};
inline constexpr NumberRule kVersion{"the version that this program reads", 1, 1};

inline constexpr std::size_t kLongestPath = 4096;      ///< characters
inline constexpr std::size_t kMostCorners = 10000;     ///< of a polygon
inline constexpr std::size_t kMostHeights = 1000;      ///< of a zone
inline constexpr std::size_t kMostUps = 100;           ///< of a zone or a fixed place
inline constexpr std::size_t kMostIncludes = 100;      ///< of one scene file
inline constexpr std::size_t kMostDocuments = 1000;    ///< scene files of a scene in all
inline constexpr std::size_t kMostLists = 1000;        ///< of features, and of nests, of one file
inline constexpr std::size_t kMostPlanePoints = 1000;  ///< each is a touch
inline constexpr std::size_t kMostSurfaceFaces = 10000;

/// All grids of a scene together may generate this many candidates (and nest sites as many).
inline constexpr double kMostCandidates = 1e6;
/// One grid may try this many points over its polygon's bounding box.
inline constexpr double kMostGridPoints = 1e7;

}  // namespace standpoint
