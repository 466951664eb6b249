#include <cmath>

#include "planform/error.hpp"
#include "planform/unfold.hpp"

namespace planform {

namespace {

/// Datums in one plane: normals within this, rad, and heights within this, mm.
constexpr double in_one_plane = 1e-6;
constexpr double same_plane = 1e-6;

}  // namespace

std::vector<Bend> bends_on_datum(std::span<const Bend> bends, const Datum& from, const Datum& to) {
    if ((from.normal() - to.normal()).norm() > in_one_plane ||
        std::abs(to.to_datum(from.origin()).z()) > same_plane)
        throw GeometryError(ErrorKind::invalid_argument,
                            "bends go along with a blank that is turned or moved in its plane; "
                            "this datum is in another one");
    const auto moved = [&](const Line& line) {
        return Line{to.to_datum(from.to_model(line.start)).head<2>(),
                    to.to_datum(from.to_model(line.end)).head<2>()};
    };
    std::vector<Bend> result(bends.begin(), bends.end());
    for (Bend& bend : result) {
        for (Line& line : bend.lines) line = moved(line);
        for (Line& line : bend.limits) line = moved(line);
    }
    return result;
}

}  // namespace planform
