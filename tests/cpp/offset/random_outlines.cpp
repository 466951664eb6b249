#include "offset/random_outlines.hpp"

#include <algorithm>
#include <cmath>

namespace random_outlines {

using namespace planform;

namespace {

double uniform(std::mt19937& random, double from, double to) {
    return std::uniform_real_distribution<double>(from, to)(random);
}

std::vector<Point2> ring(std::mt19937& random, const Point2& center, double size, double least,
                         int count) {
    std::vector<Point2> corners;
    const double power = uniform(random, 0.3, 2.0);
    for (int i = 0; i < count; ++i) {
        const double angle = 2 * pi * (i + uniform(random, 0.1, 0.9)) / count;
        const double radius = least + (size - least) * std::pow(uniform(random, 0.0, 1.0), power);
        corners.push_back(center + radius * Vector2(std::cos(angle), std::sin(angle)));
    }
    return corners;
}

std::vector<Curve> rounded(const std::vector<Point2>& corners, double radius) {
    const std::size_t count = corners.size();
    std::vector<Point2> starts, ends;
    std::vector<std::vector<Curve>> arcs(count);
    for (std::size_t i = 0; i < count; ++i) {
        const Point2 here = corners[i];
        const Vector2 into = here - corners[(i + count - 1) % count];
        const Vector2 out = corners[(i + 1) % count] - here;
        const double turn = std::atan2(cross(into, out), into.dot(out));
        const double reach = radius * std::abs(std::tan(turn / 2));
        if (std::abs(turn) < 0.05 || reach > 0.45 * std::min(into.norm(), out.norm())) {
            starts.push_back(here);
            ends.push_back(here);
            continue;
        }
        const Vector2 along = into.normalized();
        const Point2 start = here - reach * along;
        const double side = turn > 0 ? 1.0 : -1.0;
        const Point2 middle = start + side * radius * Vector2(-along.y(), along.x());
        const Vector2 spoke = start - middle;
        arcs[i].push_back(Arc{middle, radius, std::atan2(spoke.y(), spoke.x()), turn});
        starts.push_back(start);
        ends.push_back(here + reach * out.normalized());
    }
    std::vector<Curve> curves;
    for (std::size_t i = 0; i < count; ++i) {
        curves.insert(curves.end(), arcs[i].begin(), arcs[i].end());
        curves.push_back(Line{ends[i], starts[(i + 1) % count]});
    }
    return curves;
}

Curve arc_between(const Point2& from, const Point2& to, double sweep) {
    const Vector2 chord = to - from;
    const double radius = chord.norm() / (2 * std::sin(std::abs(sweep) / 2));
    const double side = sweep > 0 ? 1.0 : -1.0;
    const Point2 center = 0.5 * (from + to) + side * radius * std::cos(sweep / 2) *
                                                  Vector2(-chord.y(), chord.x()).normalized();
    const Vector2 out = from - center;
    return Arc{center, radius, std::atan2(out.y(), out.x()), sweep};
}

/// A half ellipse's part over the chord.
Curve ellipse_between(const Point2& from, const Point2& to, double ratio, bool left) {
    const Vector2 major = 0.5 * (to - from);
    return EllipticalArc{0.5 * (from + to), major, ratio, pi, left ? pi : -pi};
}

std::vector<Curve> spline_pieces(const std::vector<Point2>& p) {
    const std::size_t count = p.size();
    std::vector<Curve> curves;
    for (std::size_t i = 0; i < count; ++i) {
        const Point2 &a = p[i], &b = p[(i + 1) % count], &c = p[(i + 2) % count],
                     &d = p[(i + 3) % count];
        curves.push_back(
            Spline{3,
                   {0, 0, 0, 0, 1, 1, 1, 1},
                   {(a + 4 * b + c) / 6, (2 * b + c) / 3, (b + 2 * c) / 3, (b + 4 * c + d) / 6},
                   {}});
    }
    return curves;
}

std::vector<Curve> one_spline(std::mt19937& random, std::vector<Point2> corners) {
    corners.push_back(corners.front());
    const int degree = 2 + static_cast<int>(random() % 3);
    const int poles = static_cast<int>(corners.size());
    Spline spline{degree, {}, std::move(corners), {}};
    for (int i = 0; i <= degree; ++i) spline.knots.push_back(0.0);
    for (int i = 1; i < poles - degree; ++i) spline.knots.push_back(i);
    for (int i = 0; i <= degree; ++i) spline.knots.push_back(poles - degree);
    if (random() % 2)
        for (int i = 0; i < poles; ++i) spline.weights.push_back(uniform(random, 0.5, 2.0));
    return {spline};
}

bool is_star_shaped(const std::vector<Curve>& curves, const Point2& center) {
    for (const Curve& curve : curves) {
        const Interval range = domain(curve);
        const int samples = std::holds_alternative<Spline>(curve)
                                ? 24 * static_cast<int>(std::get<Spline>(curve).poles.size())
                                : 24;
        for (int i = 0; i <= samples; ++i) {
            const double t = range.first + (range.last - range.first) * i / samples;
            const Vector2 out = point_at(curve, t) - center, along = derivative_at(curve, t);
            if (cross(out, along) <= 1e-3 * out.norm() * along.norm()) return false;
        }
    }
    return true;
}

std::vector<Curve> curves_over(std::mt19937& random, Kind kind, const std::vector<Point2>& p,
                               double size) {
    if (kind == Kind::rounded) return rounded(p, size * uniform(random, 0.02, 0.3));
    if (kind == Kind::spline_pieces) return spline_pieces(p);
    if (kind == Kind::one_spline) return one_spline(random, p);
    std::vector<Curve> curves;
    for (std::size_t i = 0; i < p.size(); ++i) {
        const Point2 &from = p[i], &to = p[(i + 1) % p.size()];
        const int what = kind == Kind::lines      ? 0
                         : kind == Kind::arcs     ? 1
                         : kind == Kind::ellipses ? 2
                                                  : static_cast<int>(random() % 3);
        const double bend = uniform(random, 0.05, 1.2) * (random() % 2 ? 1.0 : -1.0);
        const std::vector<Curve> candidate{
            what == 1   ? arc_between(from, to, bend)
            : what == 2 ? ellipse_between(from, to, 0.3 * std::abs(bend), bend > 0)
                        : Curve(Line{from, to})};
        curves.push_back(candidate.front());
    }
    return curves;
}

}  // namespace

Contour contour(std::mt19937& random, Kind kind, const Point2& center, double size, double least,
                int curves) {
    for (int attempt = 0;; ++attempt) {
        const double narrow = std::min(0.9 * size, least + 0.02 * attempt * size);
        const std::vector<Point2> p = ring(random, center, size, narrow, std::max(curves, 4));
        std::vector<Curve> made = curves_over(random, kind, p, size);
        if (kind == Kind::ellipses || kind == Kind::arcs || kind == Kind::mixed)
            for (std::size_t i = 0; i < made.size(); ++i)
                if (!is_star_shaped({made[i]}, center)) made[i] = Line{p[i], p[(i + 1) % p.size()]};
        if (is_star_shaped(made, center)) return Contour(made);
    }
}

ProfileSet set(std::uint32_t seed, int curves) {
    std::mt19937 random(seed);
    const int side = curves < 12 ? 1 : 1 + static_cast<int>(random() % 4);
    const double pitch = 100.0 / side;
    const int each = std::max(4, curves / (2 * side * side));
    const double gap = uniform(random, 0.0, 1.0) < 0.5 ? 0.501 : 0.55;
    std::vector<Profile> profiles;
    for (int x = 0; x < side; ++x)
        for (int y = 0; y < side; ++y) {
            const auto kind = static_cast<Kind>(random() % 7);
            const Point2 center(pitch * x, pitch * y);
            const double size = pitch * (1.0 - gap);
            const double least = size * uniform(random, 0.2, 0.8);
            Contour outer = contour(random, kind, center, size, least, each);
            std::vector<Contour> holes;
            if (random() % 4 != 0) {
                const auto inner = static_cast<Kind>(random() % 7);
                // What chords and splines cut off between corners counts.
                double nearest = size;
                for (const Curve& curve : outer.curves())
                    nearest = std::min(
                        nearest,
                        (point_at(curve, nearest_parameter(curve, center)) - center).norm());
                const double room = uniform(random, 0.5, 0.95) * nearest;
                holes.push_back(contour(random, inner, center, room, 0.3 * room, each));
                for (const Point2& point : holes.front().points(1e-3))
                    if ((point - center).norm() > 0.99 * nearest) {
                        holes.clear();
                        break;
                    }
            }
            profiles.emplace_back(std::move(outer), std::move(holes));
        }
    ProfileSet made(std::move(profiles));
    if (seed % 3 != 0) return made;
    Transform2 turn{Eigen::Rotation2Dd(uniform(random, 0.0, 6.0))};
    turn.pretranslate(Vector2(17.0, -5.0));
    return made.transformed(turn);
}

}  // namespace random_outlines
