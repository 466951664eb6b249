#include "congruence/alignment.hpp"

#include <algorithm>
#include <cmath>

#include "curve/angles.hpp"

namespace planform::congruence {

namespace {

/// Gears of up to this many teeth are told apart by the first look, up to the second by a finer
/// one.
constexpr int first_orders = 64;
constexpr int all_orders = 512;
/// Share of the best order's precision with which a lower order is preferred: it leaves fewer
/// angles.
constexpr double nearly_best = 0.3;

struct Order {
    int k = 0;
    double precision = 0.0;  ///< mm of shift of the outline that stand for one radian
    double angle = 0.0;      ///< between the two moments, divided by k
};

Order best_order(const Figure& first, const Figure& second, bool mirrored, int orders) {
    const Figure::Moments a = first.moments(orders);
    const Figure::Moments b = second.moments(orders);
    const auto precision = [&](std::size_t i) {
        if (!(a.sensitivity[i] > 0.0) || !(b.sensitivity[i] > 0.0)) return 0.0;
        const double k = static_cast<double>(i) + 1.0;
        return k * std::min(std::abs(a.values[i]) / a.sensitivity[i],
                            std::abs(b.values[i]) / b.sensitivity[i]);
    };
    double best = 0.0;
    for (std::size_t i = 0; i < a.values.size(); ++i) best = std::max(best, precision(i));
    for (std::size_t i = 0; i < a.values.size(); ++i) {
        if (precision(i) <= 0.0 || precision(i) < nearly_best * best) continue;
        const std::complex<double> from = mirrored ? std::conj(a.values[i]) : a.values[i];
        const int k = static_cast<int>(i) + 1;
        return {k, precision(i), std::arg(b.values[i] / from) / k};
    }
    return {};
}

}  // namespace

Candidates candidate_angles(const Figure& first, const Figure& second, bool mirrored,
                            double half_tolerance) {
    Order order = best_order(first, second, mirrored, first_orders);
    if (order.precision < 2.0 * half_tolerance) {
        const Order finer = best_order(first, second, mirrored, all_orders);
        if (finer.precision > order.precision) order = finer;
    }
    const double shift = half_tolerance * (1.0 + first.length() * first.reach() / first.area());
    // What is round within the tolerance looks the same at every angle.
    if (order.precision < half_tolerance) return {{0.0}, shift + half_tolerance};
    Candidates result;
    for (int i = 0; i < order.k; ++i)
        result.angles.push_back(order.angle + full_turn * i / order.k);
    result.slack = shift + half_tolerance * first.reach() * std::min(1.0, 1.0 / order.precision) +
                   half_tolerance;
    return result;
}

Transform2 motion_about_centres(const Figure& first, const Figure& second, double angle,
                                bool mirrored) {
    Transform2 motion = Transform2::Identity();
    Eigen::Matrix2d flip = Eigen::Matrix2d::Identity();
    if (mirrored) flip(1, 1) = -1.0;
    motion.linear() = Eigen::Rotation2Dd(angle).toRotationMatrix() * flip;
    motion.translation() = second.centre() - motion.linear() * first.centre();
    return motion;
}

std::vector<std::size_t> partners(const Figure& first, const Figure& second,
                                  const Transform2& motion, double half_tolerance, double slack) {
    const std::vector<FigureContour>& b = second.contours();
    // By role and x of the centroid, so that only near ones are looked at.
    std::vector<std::size_t> order(b.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    const auto before = [&](std::size_t i, std::size_t j) {
        return std::make_pair(b[i].role, b[i].centroid.x()) <
               std::make_pair(b[j].role, b[j].centroid.x());
    };
    std::sort(order.begin(), order.end(), before);
    std::vector<bool> taken(b.size(), false);
    std::vector<std::size_t> result;
    for (const FigureContour& contour : first.contours()) {
        const Point2 place = motion * contour.centroid;
        const std::pair<int, double> low(contour.role, place.x() - slack);
        auto at = std::lower_bound(order.begin(), order.end(), low,
                                   [&](std::size_t i, const std::pair<int, double>& key) {
                                       return std::make_pair(b[i].role, b[i].centroid.x()) < key;
                                   });
        double nearest = slack;
        std::size_t partner = b.size();
        for (; at != order.end() && b[*at].role == contour.role &&
               b[*at].centroid.x() <= place.x() + slack;
             ++at) {
            const double allowed = 2.0 * half_tolerance * (contour.length + 4.0 * half_tolerance);
            const double distance = (b[*at].centroid - place).norm();
            if (taken[*at] || distance > nearest || std::abs(b[*at].area - contour.area) > allowed)
                continue;
            nearest = distance;
            partner = *at;
        }
        if (partner == b.size()) return {};
        taken[partner] = true;
        result.push_back(partner);
    }
    return result;
}

}  // namespace planform::congruence
