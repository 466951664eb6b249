/// Notation: z = x + iy about the figure's centre, in units of its reach; M_k the integral of z^k
/// over the inside of a contour. By Green's theorem in complex form (e.g. Ablowitz, Fokas, Complex
/// Variables, section 2.6) M_k = 1/(2i) times the integral of conj(z) z^k dz along the contour.

#include "congruence/figure.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "curve/quadrature.hpp"

namespace planform::congruence {

namespace {

constexpr int roles_in_layer = 4;

/// Parameters between which a curve is one smooth piece no longer than `longest` mm.
std::vector<double> pieces_of(const Curve& curve, double longest) {
    std::vector<double> breaks;
    const Interval range = domain(curve);
    if (const Spline* spline = std::get_if<Spline>(&curve)) {
        breaks.assign(spline->knots.begin(), spline->knots.end());
        breaks.erase(std::unique(breaks.begin(), breaks.end()), breaks.end());
    } else {
        breaks = {range.first, range.last};
    }
    const int for_bend = std::holds_alternative<Line>(curve) ? 1 : 8;
    const double whole = length(curve);
    const int parts = std::max(
        for_bend, static_cast<int>(std::min(
                      1e5, std::ceil(whole / longest / static_cast<double>(breaks.size() - 1)))));
    std::vector<double> result{range.first};
    for (std::size_t i = 0; i + 1 < breaks.size(); ++i)
        for (int part = 1; part <= parts; ++part)
            result.push_back(breaks[i] + (breaks[i + 1] - breaks[i]) * part / parts);
    return result;
}

/// Calls visit(point, tangent times weight) at the nodes of a quadrature along a contour.
template <typename Visit>
void visit_nodes(const Contour& contour, double longest, Visit&& visit) {
    const detail::GaussRule& rule = detail::gauss_rule(6);
    for (const Curve& curve : contour.curves()) {
        const std::vector<double> pieces = pieces_of(curve, longest);
        for (std::size_t i = 0; i + 1 < pieces.size(); ++i) {
            const double half = (pieces[i + 1] - pieces[i]) / 2.0;
            const double middle = (pieces[i + 1] + pieces[i]) / 2.0;
            for (std::size_t n = 0; n < rule.nodes.size(); ++n) {
                const double t = middle + half * rule.nodes[n];
                visit(point_at(curve, t),
                      Vector2(half * rule.weights[n] * derivative_at(curve, t)));
            }
        }
    }
}

Point2 centroid_of(const Contour& contour, const Point2& pivot) {
    Vector2 moment = Vector2::Zero();
    visit_nodes(contour, INFINITY, [&](const Point2& point, const Vector2& step) {
        const Vector2 p = point - pivot;
        moment += Vector2(p.x() * p.x() * step.y(), -p.y() * p.y() * step.x()) / 2.0;
    });
    return pivot + moment / contour.area();
}

/// Different roles weigh differently, so that a symmetry of two roles together is none of the
/// whole.
double weight_of(int role) {
    constexpr double of_kind[roles_in_layer] = {1.0, -0.83, 0.57, 0.71};
    return of_kind[role % roles_in_layer] * (1.0 + 0.37 * (role / roles_in_layer));
}

}  // namespace

Figure::Figure(std::span<const ProfileSet> layers) {
    Box2 box;
    for (std::size_t layer = 0; layer < layers.size(); ++layer) {
        const int role = roles_in_layer * static_cast<int>(layer);
        for (const Profile& profile : layers[layer].profiles()) {
            add(profile.outer(), role);
            for (const Contour& hole : profile.holes()) add(hole, role + 1);
        }
        for (const Mark& mark : layers[layer].marks()) {
            if (mark.is_closed())
                add(mark.contour(), role + 2);
            else
                add_open(mark, role + 3);
        }
        if (!layers[layer].empty()) box.extend(layers[layer].bounds());
    }
    if (contours_.empty()) return;
    std::stable_sort(contours_.begin(), contours_.end(),
                     [](const FigureContour& a, const FigureContour& b) {
                         return std::tie(a.role, a.area) < std::tie(b.role, b.area);
                     });
    Vector2 sum = Vector2::Zero();
    for (const FigureContour& contour : contours_) {
        sum += contour.area * (contour.centroid - box.center());
        area_ += contour.area;
        length_ += contour.length;
    }
    centre_ = box.center() + (area_ > 0.0 ? Vector2(sum / area_) : Vector2::Zero());
    for (int i = 0; i < 4; ++i)
        reach_ = std::max(reach_, (box.corner(static_cast<Box2::CornerType>(i)) - centre_).norm());
}

void Figure::add(const Contour& contour, int role) {
    const double area = std::abs(contour.area());
    const Point2 middle = contour.bounds().center();
    const Point2 centroid = area > 0.0 ? centroid_of(contour, middle) : middle;
    contours_.push_back({role, area, contour.length(), centroid, &contour});
}

void Figure::add_open(const Mark& mark, int role) {
    std::vector<Curve> curves = mark.curves();
    for (std::size_t i = curves.size(); i-- > 0;) curves.push_back(reversed(curves[i]));
    const Contour& contour =
        there_and_back_.emplace_back(std::move(curves), std::vector<Provenance>{}, Validate::no);
    // It encloses nothing: the middle of its length stands for the centroid.
    Vector2 sum = Vector2::Zero();
    double length = 0.0;
    const Point2 pivot = contour.bounds().center();
    visit_nodes(contour, INFINITY, [&](const Point2& point, const Vector2& step) {
        sum += step.norm() * (point - pivot);
        length += step.norm();
    });
    contours_.push_back({role, 0.0, length, pivot + sum / length, &contour});
}

Figure::Moments Figure::moments(int orders) const {
    using Complex = std::complex<double>;
    const auto count = static_cast<std::size_t>(orders);
    Moments result{std::vector<Complex>(count), std::vector<double>(count, 0.0)};
    // A piece turns by little even for the highest power, so that six nodes are enough.
    const double longest = 2.0 * reach_ / orders;
    for (const FigureContour& contour : contours_) {
        std::vector<Complex> sums(count);
        std::vector<double> sizes(count, 0.0);
        visit_nodes(*contour.contour, longest, [&](const Point2& point, const Vector2& step) {
            const Complex z = Complex(point.x() - centre_.x(), point.y() - centre_.y()) / reach_;
            const Complex dz(step.x(), step.y());
            const double size = std::abs(z), ds = step.norm();
            Complex power = 1.0;
            double size_power = 1.0;
            for (std::size_t k = 0; k < count; ++k) {
                power *= z;
                size_power *= size;
                if (size_power < 1e-18) break;
                sums[k] += std::conj(z) * power * dz;
                sizes[k] += size_power * ds;
            }
        });
        const double weight = weight_of(contour.role);
        const double sign = contour.contour->area() < 0.0 ? -1.0 : 1.0;
        for (std::size_t k = 0; k < count; ++k) {
            result.values[k] += weight * sign * reach_ / Complex(0.0, 2.0) * sums[k];
            result.sensitivity[k] += std::abs(weight) * sizes[k];
        }
    }
    return result;
}

}  // namespace planform::congruence
