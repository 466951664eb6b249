#include "offset/atoms.hpp"

#include <algorithm>
#include <cmath>

namespace planform::offset_detail {
namespace {

constexpr double most_spread = pi / 3.0;
/// Halvings of a span of a spline at most.
constexpr int most_splits = 12;

double angle_between(const Vector2& a, const Vector2& b) {
    return std::abs(std::atan2(cross(a, b), a.dot(b)));
}

Atom segment_atom(const Point2& start, const Point2& end) {
    return {start, end, (end - start).normalized(), 0.0, 0.0, {}};
}

Point2 at(const Bow& bow, double angle) {
    return bow.center + bow.u * std::cos(angle) + bow.v * std::sin(angle);
}

Atom atom_of(const Bow& bow, const Point2& start, const Point2& end) {
    Atom atom = segment_atom(start, end);
    const double turn = bow.to - bow.from;
    if (bow.is_circle) {
        atom.height = bow.u.x() * (1.0 - std::cos(0.5 * turn));
        atom.spread = 0.5 * std::abs(turn);
        atom.shape = bow;
        return atom;
    }
    // |c''| is at most the longer semi-axis.
    atom.height = std::max(bow.u.norm(), bow.v.norm()) * turn * turn / 8.0;
    const double sense = turn < 0.0 ? -1.0 : 1.0;
    const auto direction = [&](double angle) {
        return Vector2(sense * (bow.v * std::cos(angle) - bow.u * std::sin(angle)));
    };
    // Ellipses turn one way throughout.
    atom.spread = std::max(angle_between(atom.along, direction(bow.from)),
                           angle_between(atom.along, direction(bow.to)));
    atom.shape = bow;
    return atom;
}

Atom atom_of(const detail::BezierPiece& piece) {
    Atom atom = segment_atom(piece.start(), piece.end());
    Point2 before = piece.start();
    for (int i = 1; i <= piece.degree; ++i) {
        const Point2 point = piece.control_point(i);
        const double along =
            std::clamp((point - atom.start).dot(atom.along), 0.0, (atom.end - atom.start).norm());
        atom.height = std::max(atom.height, (point - atom.start - along * atom.along).norm());
        // The derivative of a rational curve of positive weights is a sum, with positive factors,
        // of the ways from a pole to a later one, which are sums of legs: what holds all legs holds
        // it. Source: M. S. Floater, "Derivatives of rational Bezier curves", Computer Aided
        // Geometric Design 9 (1992), from memory. Twice the angle, to be halved until weights
        // agree.
        const Vector2 leg = point - before;
        if (leg.squaredNorm() > 0.0)
            atom.spread = std::max(atom.spread,
                                   (piece.rational ? 2.0 : 1.0) * angle_between(atom.along, leg));
        before = point;
    }
    // Of a piece that comes back to its start, as a drop does, no direction is the one along it.
    if (atom.along.isZero(0.0) && atom.height > 0.0) atom.spread = pi;
    atom.shape = std::make_shared<const detail::BezierPiece>(piece);
    return atom;
}

bool append_bow(const Bow& bow, const Point2& start, const Point2& end, std::vector<Atom>& atoms,
                int depth) {
    const Atom atom = atom_of(bow, start, end);
    const bool good = atom.spread <= most_spread && std::abs(bow.to - bow.from) < pi;
    if (good || depth == 0) {
        atoms.push_back(atom);
        return good;
    }
    const double middle = 0.5 * (bow.from + bow.to);
    const Point2 point = at(bow, middle);
    Bow first = bow, second = bow;
    first.to = second.from = middle;
    const bool before = append_bow(first, start, point, atoms, depth - 1);
    return append_bow(second, point, end, atoms, depth - 1) && before;
}

/// In equal parts, so that a circle takes three.
bool append_turn(Bow bow, const Point2& start, const Point2& end, std::vector<Atom>& atoms) {
    const double sweep = bow.to - bow.from, first = bow.from;
    const int parts =
        std::max(1, static_cast<int>(std::ceil(std::abs(sweep) / (2.0 * pi / 3.0) - 1e-9)));
    Point2 point = start;
    bool good = true;
    for (int i = 0; i < parts; ++i) {
        bow.from = first + sweep * i / parts;
        bow.to = first + sweep * (i + 1) / parts;
        const Point2 next = i + 1 == parts ? end : at(bow, bow.to);
        good = append_bow(bow, point, next, atoms, most_splits) && good;
        point = next;
    }
    return good;
}

bool append_piece(const detail::BezierPiece& piece, std::vector<Atom>& atoms, int depth) {
    Atom atom = atom_of(piece);
    const bool good = atom.spread <= most_spread;
    if (good || depth == 0) {
        atoms.push_back(std::move(atom));
        return good;
    }
    detail::BezierPiece left, right;
    piece.split(0.5, left, right);
    const bool before = append_piece(left, atoms, depth - 1);
    return append_piece(right, atoms, depth - 1) && before;
}

}  // namespace

std::pair<Atom, Atom> Atom::halves() const {
    if (const Bow* bow = std::get_if<Bow>(&shape)) {
        Bow first = *bow, second = *bow;
        first.to = second.from = 0.5 * (bow->from + bow->to);
        const Point2 middle = at(*bow, first.to);
        return {atom_of(first, start, middle), atom_of(second, middle, end)};
    }
    if (const auto* piece = std::get_if<std::shared_ptr<const detail::BezierPiece>>(&shape)) {
        detail::BezierPiece left, right;
        (*piece)->split(0.5, left, right);
        Atom first = atom_of(left), second = atom_of(right);
        first.start = start;
        second.end = end;
        return {std::move(first), std::move(second)};
    }
    const Point2 middle = 0.5 * (start + end);
    return {segment_atom(start, middle), segment_atom(middle, end)};
}

Box2 Atom::box() const {
    Box2 box(start);
    box.extend(end);
    if (height == 0.0) return box;
    if (const auto* piece = std::get_if<std::shared_ptr<const detail::BezierPiece>>(&shape)) {
        for (int i = 1; i < (*piece)->degree; ++i) box.extend((*piece)->control_point(i));
        return box;
    }
    const Vector2 side = height * Vector2(std::abs(along.y()), std::abs(along.x()));
    return Box2(box.min() - side, box.max() + side);
}

bool append_atoms(const Curve& curve, std::vector<Atom>& atoms) {
    const Point2 start = start_point(curve), end = end_point(curve);
    if (std::holds_alternative<Line>(curve)) {
        atoms.push_back(segment_atom(start, end));
        return (end - start).norm() > 0.0;
    }
    if (const Arc* arc = std::get_if<Arc>(&curve))
        return append_turn({arc->center,
                            {arc->radius, 0.0},
                            {0.0, arc->radius},
                            arc->start_angle,
                            arc->start_angle + arc->sweep,
                            true},
                           start, end, atoms);
    if (const EllipticalArc* arc = std::get_if<EllipticalArc>(&curve))
        return append_turn(
            {arc->center, arc->major, arc->ratio * Vector2(-arc->major.y(), arc->major.x()),
             arc->start_angle, arc->start_angle + arc->sweep, false},
            start, end, atoms);
    const Spline& spline = std::get<Spline>(curve);
    bool good = true;
    detail::for_each_span(spline, [&](int span) {
        good = append_piece(detail::bezier_piece(spline, span), atoms, most_splits) && good;
    });
    return good;
}

double point_to_segment(const Point2& p, const Atom& s) {
    const double along = (p - s.start).dot(s.along);
    if (!(along > 0.0)) return (p - s.start).norm();
    if (along >= (s.end - s.start).norm()) return (p - s.end).norm();
    return std::abs(cross(s.along, p - s.start));
}

double segment_distance(const Atom& a, const Atom& b) {
    const auto opposite = [](const Atom& line, const Atom& other) {
        return cross(line.along, other.start - line.start) *
                   cross(line.along, other.end - line.start) <
               0.0;
    };
    if (opposite(a, b) && opposite(b, a)) return 0.0;
    return std::min({point_to_segment(a.start, b), point_to_segment(a.end, b),
                     point_to_segment(b.start, a), point_to_segment(b.end, a)});
}

}  // namespace planform::offset_detail
