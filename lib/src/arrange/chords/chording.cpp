#include "arrange/chords/chording.hpp"

#include <algorithm>
#include <cstddef>

namespace planform::arrange {
namespace {

/// Parameters on the carrier at which a piece is split into chords.
std::vector<double> carrier_parameters(const Carrier& carrier, const Piece& piece,
                                       double tolerance) {
    if (carrier.kind == Carrier::Kind::line) return {piece.from, piece.to};
    if (carrier.kind == Carrier::Kind::spline) {
        const Interval range = domain(carrier.curve);
        const bool whole = piece.from == range.first && piece.to == range.last;
        return chord_parameters(whole ? carrier.curve : carrier.piece(piece.from, piece.to),
                                tolerance);
    }
    std::vector<double> parameters =
        chord_parameters(carrier.piece(piece.from, piece.to), tolerance);
    for (double& t : parameters) t = piece.from + t * (piece.to - piece.from);
    parameters.back() = piece.to;
    return parameters;
}

/// The one polyline of a piece at one tolerance.
Polylines polyline(const CarrierSet& set, const Piece& piece, double tolerance) {
    Polylines result;
    const Carrier& carrier = set.carriers[static_cast<std::size_t>(piece.carrier)];
    const std::vector<double> parameters = carrier_parameters(carrier, piece, tolerance);
    result.parameters = parameters;
    result.tolerances.assign(parameters.size(), tolerance);
    result.points.push_back(set.nodes[static_cast<std::size_t>(piece.start_node)]);
    for (std::size_t i = 1; i + 1 < parameters.size(); ++i)
        result.points.push_back(carrier.position(parameters[i]));
    result.points.push_back(set.nodes[static_cast<std::size_t>(piece.end_node)]);
    return result;
}

/// Places [first, last) in the lists of some polylines: those of one piece.
struct Places {
    std::size_t first;
    std::size_t last;
};

void add_chords(const CarrierSet& set, std::size_t piece, const Polylines& polylines,
                const Places& places, const grid::Grid& grid, Chords& chords) {
    std::size_t begin = places.first;
    grid::GridPoint start = grid.snap(polylines.points[begin]);
    for (std::size_t i = begin + 1; i < places.last; ++i) {
        const grid::GridPoint end = grid.snap(polylines.points[i]);
        if (end == start) continue;
        chords.segments.push_back({start, end});
        const double tolerance =
            *std::max_element(polylines.tolerances.begin() + static_cast<std::ptrdiff_t>(begin),
                              polylines.tolerances.begin() + static_cast<std::ptrdiff_t>(i));
        chords.tags.push_back({static_cast<std::int32_t>(piece), polylines.parameters[begin],
                               polylines.parameters[i], tolerance});
        chords.weights.push_back(set.pieces[piece].weight);
        start = end;
        begin = i;
    }
}

}  // namespace

Box2 Polylines::bounds() const {
    Box2 box;
    for (const Point2& point : points) box.extend(point);
    return box;
}

Chords snap_chords(const CarrierSet& set, const Polylines& polylines, const grid::Grid& grid) {
    Chords chords;
    chords.segments.reserve(polylines.points.size());
    chords.tags.reserve(polylines.points.size());
    chords.weights.reserve(polylines.points.size());
    for (std::size_t p = 0; p < set.pieces.size(); ++p)
        add_chords(set, p, polylines, {polylines.first[p], polylines.first[p + 1]}, grid, chords);
    return chords;
}

std::vector<char> chord_again(const CarrierSet& set, const std::vector<double>& tolerances,
                              const grid::Grid& grid, Chords& chords) {
    const auto tolerance = [&](std::size_t piece) {
        return tolerances[static_cast<std::size_t>(set.pieces[piece].carrier)];
    };
    std::vector<char> replaced;
    replaced.reserve(chords.tags.size());
    for (const ChordTag& tag : chords.tags)
        replaced.push_back(tolerance(static_cast<std::size_t>(tag.piece)) > 0.0);
    for (std::size_t p = 0; p < set.pieces.size(); ++p) {
        if (!(tolerance(p) > 0.0)) continue;
        const Polylines again = polyline(set, set.pieces[p], tolerance(p));
        add_chords(set, p, again, {0, again.points.size()}, grid, chords);
    }
    return replaced;
}

}  // namespace planform::arrange
