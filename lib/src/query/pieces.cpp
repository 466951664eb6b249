#include "query/pieces.hpp"

#include <algorithm>
#include <cmath>

namespace planform::query {

namespace {

using offset_detail::Atom;
using offset_detail::Bow;
using PiecePointer = std::shared_ptr<const detail::BezierPiece>;

/// Pieces turn by no more than twice this, so that chords are close to their curves.
constexpr double most_spread = 0.2;
/// Coordinates times this are rounding.
constexpr double rounding = 1e-14;
/// Of the tolerance, for the chords of a spline that has no simple pieces.
constexpr double chord_share = 1e-3;

void add_simple(const Atom& atom, int curve, int depth, std::vector<Piece>& pieces) {
    if (atom.spread <= most_spread || depth == 0) {
        pieces.push_back({atom, curve});
        return;
    }
    const auto [first, second] = atom.halves();
    add_simple(first, curve, depth - 1, pieces);
    add_simple(second, curve, depth - 1, pieces);
}

void add_chords(const Curve& curve, double tolerance, std::vector<Atom>& atoms) {
    const std::vector<Point2> vertices = points(curve, tolerance);
    for (std::size_t i = 1; i < vertices.size(); ++i)
        if (vertices[i] != vertices[i - 1])
            offset_detail::append_atoms(Line{vertices[i - 1], vertices[i]}, atoms);
}

double slack_of(const Atom& atom) {
    double size = std::max(atom.start.cwiseAbs().maxCoeff(), atom.end.cwiseAbs().maxCoeff());
    if (const Bow* bow = std::get_if<Bow>(&atom.shape))
        size = std::max(size, bow->u.norm() + bow->center.cwiseAbs().maxCoeff());
    return rounding * size;
}

/// Between chord and curve on its side, by what the curve's height over the chord is there.
Lie by_height(bool left, double side, double height, double slack) {
    if (std::abs(side - height) <= slack) return {true, 0};
    if (height > 0.0 && left && side < height) return {false, -1};
    if (height < 0.0 && !left && side > height) return {false, 1};
    return {};
}

/// The piece bulges to the right if it turns counter-clockwise. Seen as a circle the distance from
/// it is at most that times the longer axis.
Lie lie_of_bow(const Point2& point, const Edge& edge, const Bow& bow) {
    const Vector2 offset = point - bow.center;
    const double radius = bow.u.norm();
    const double inside = bow.is_circle ? offset.norm() - radius
                                        : (Vector2(offset.dot(bow.u) / bow.u.squaredNorm(),
                                                   offset.dot(bow.v) / bow.v.squaredNorm())
                                               .norm() -
                                           1.0) *
                                              std::min(radius, bow.v.norm());
    if (std::abs(inside) <= edge.slack) return {true, 0};
    if (inside > 0.0) return {};
    const bool bulges_left = bow.to < bow.from;
    if (is_left(edge, point) != bulges_left) return {};
    return {false, bulges_left ? -1 : 1};
}

/// The height of a spline's piece over its chord at a place along it: its way along the chord is
/// monotone, so Newton's method, bisecting where it leaves the bracket, finds the parameter.
double height_at(const detail::BezierPiece& piece, const Atom& atom, double place) {
    double low = piece.first, high = piece.last;
    double t = low + (high - low) * place / (atom.end - atom.start).norm();
    detail::Jet jet = piece.evaluate(t);
    for (int step = 0; step < 60; ++step) {
        const double error = (jet.point - atom.start).dot(atom.along) - place;
        (error < 0.0 ? low : high) = t;
        const double slope = jet.first.dot(atom.along);
        double next = slope > 0.0 ? t - error / slope : low - 1.0;
        if (!(next > low && next < high)) next = 0.5 * (low + high);
        if (std::abs(next - t) <= 4e-16 * std::max(std::abs(low), std::abs(high))) break;
        t = next;
        jet = piece.evaluate(t);
    }
    return cross(atom.along, jet.point - atom.start);
}

}  // namespace

Lie lie_of(const Point2& point, const Edge& edge, const Pieces& pieces) {
    const Vector2 chord = edge.end - edge.start;
    const double length = chord.norm();
    if (length == 0.0) return {(point - edge.start).norm() <= edge.slack, 0};
    const Vector2 offset = point - edge.start;
    const double place = chord.dot(offset) / length;
    const double side = cross(chord, offset) / length;
    if (place < -edge.slack || place > length + edge.slack ||
        std::abs(side) > edge.height + edge.slack)
        return {};
    if (edge.height == 0.0) return {true, 0};
    if (place <= 0.0 || place >= length) return {std::abs(side) <= edge.slack, 0};
    const Atom& atom = pieces.pieces[static_cast<std::size_t>(edge.piece)].atom;
    if (const Bow* bow = std::get_if<Bow>(&atom.shape)) return lie_of_bow(point, edge, *bow);
    const double height = height_at(*std::get<PiecePointer>(atom.shape), atom, place);
    return by_height(is_left(edge, point), side, height, 4.0 * edge.slack);
}

Pieces::Pieces(const ProfileSet& set) {
    const double chord_tolerance = chord_share * set.tolerance();
    for (std::size_t i = 0; i < set.profiles().size(); ++i) {
        const Profile& profile = set.profiles()[i];
        const int number = static_cast<int>(i);
        add(profile.outer(), number, 0, chord_tolerance);
        for (std::size_t hole = 0; hole < profile.holes().size(); ++hole)
            add(profile.holes()[hole], number, static_cast<int>(hole) + 1, chord_tolerance);
    }
}

void Pieces::add(const Contour& contour, int profile, int number, double chord_tolerance) {
    const std::size_t first_edge = edges.size();
    for (std::size_t i = 0; i < contour.curves().size(); ++i) {
        const Curve& curve = contour.curves()[i];
        const int index = static_cast<int>(curves.size());
        curves.push_back({curve, profile, number, static_cast<int>(i)});
        std::vector<Atom> atoms;
        if (!offset_detail::append_atoms(curve, atoms)) {
            atoms.clear();
            add_chords(curve, chord_tolerance, atoms);
        }
        const std::size_t first_piece = pieces.size();
        constexpr int deepest = 8;
        for (const Atom& atom : atoms) add_simple(atom, index, deepest, pieces);
        for (std::size_t piece = first_piece; piece < pieces.size(); ++piece) {
            const Atom& atom = pieces[piece].atom;
            if (edges.size() > first_edge && edges.back().end != atom.start)
                add_edge(edges.back().end, atom.start, 0.0, 0.0, -1);
            add_edge(atom.start, atom.end, atom.is_line() ? 0.0 : atom.height, slack_of(atom),
                     static_cast<int>(piece));
        }
    }
    if (edges.size() > first_edge && edges.back().end != edges[first_edge].start)
        add_edge(edges.back().end, edges[first_edge].start, 0.0, 0.0, -1);
}

void Pieces::add_edge(const Point2& start, const Point2& end, double height, double slack,
                      int piece) {
    edges.push_back({start, end, height, slack, piece});
}

}  // namespace planform::query
