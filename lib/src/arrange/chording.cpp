#include "arrange/chording.hpp"

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

}  // namespace

Box2 Polylines::bounds() const {
    Box2 box;
    for (const Point2& point : points) box.extend(point);
    return box;
}

Polylines chord_pieces(const CarrierSet& set, const std::vector<double>& tolerances) {
    Polylines result;
    for (const Piece& piece : set.pieces) {
        const auto index = static_cast<std::size_t>(piece.carrier);
        const Carrier& carrier = set.carriers[index];
        const std::vector<double> parameters =
            carrier_parameters(carrier, piece, tolerances[index]);
        result.first.push_back(result.points.size());
        result.parameters.insert(result.parameters.end(), parameters.begin(), parameters.end());
        result.points.push_back(set.nodes[static_cast<std::size_t>(piece.start_node)]);
        for (std::size_t i = 1; i + 1 < parameters.size(); ++i)
            result.points.push_back(carrier.position(parameters[i]));
        result.points.push_back(set.nodes[static_cast<std::size_t>(piece.end_node)]);
    }
    result.first.push_back(result.points.size());
    return result;
}

Chords snap_chords(const CarrierSet& set, const Polylines& polylines, const Grid& grid) {
    Chords chords;
    for (std::size_t p = 0; p < set.pieces.size(); ++p) {
        const std::size_t last = polylines.first[p + 1];
        std::size_t begin = polylines.first[p];
        GridPoint start = grid.snap(polylines.points[begin]);
        for (std::size_t i = begin + 1; i < last; ++i) {
            const GridPoint end = grid.snap(polylines.points[i]);
            if (end == start) continue;
            chords.segments.push_back({start, end});
            chords.tags.push_back({static_cast<std::int32_t>(p), polylines.parameters[begin],
                                   polylines.parameters[i]});
            chords.weights.push_back(set.pieces[p].weight);
            start = end;
            begin = i;
        }
    }
    return chords;
}

}  // namespace planform::arrange
