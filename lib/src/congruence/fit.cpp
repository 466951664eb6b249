/// First least squares, then Lawson's weights, which lead from least squares to the least greatest
/// distance: C. L. Lawson, "Contributions to the theory of linear least maximum approximation",
/// thesis, UCLA (1961); weights are multiplied by the distances after each round. The weighted mean
/// of the squares is then a lower bound of the least greatest square.

#include "congruence/fit.hpp"

#include <Eigen/QR>
#include <algorithm>
#include <cmath>

namespace planform::congruence {

namespace {

constexpr int least_squares_rounds = 6;
constexpr int weighted_rounds = 60;

struct Residual {
    Point2 place;  ///< in the plane of the second figure
    Vector2 normal;
    double distance;  ///< along the normal, signed
    double apart;     ///< not negative
};

void append(std::vector<Residual>& residuals, const Point2& moved, const Point2& foot,
            const Vector2& normal) {
    const Vector2 apart = moved - foot;
    residuals.push_back({moved, normal, apart.dot(normal), apart.norm()});
}

std::vector<Residual> residuals_of(const std::vector<TracePair>& pairs, const Transform2& motion) {
    const Transform2 back = motion.inverse(Eigen::Isometry);
    std::vector<Residual> result;
    for (const TracePair& pair : pairs) {
        for (const Point2& sample : pair.first->samples()) {
            const Point2 moved = motion * sample;
            const Foot foot = pair.second->nearest(moved);
            append(result, moved, foot.point, foot.normal);
        }
        for (const Point2& sample : pair.second->samples()) {
            const Foot foot = pair.first->nearest(back * sample);
            append(result, motion * foot.point, sample, motion.linear() * foot.normal);
        }
    }
    return result;
}

double greatest(const std::vector<Residual>& residuals) {
    double result = 0.0;
    for (const Residual& residual : residuals) result = std::max(result, residual.apart);
    return result;
}

/// The small motion that lessens the weighted squares most. Where turning changes nothing (a ring)
/// it doesn't turn.
Transform2 small_step(const std::vector<Residual>& residuals, const std::vector<double>& weights,
                      const Point2& centre, double reach) {
    Eigen::Matrix3d normal_matrix = Eigen::Matrix3d::Zero();
    Eigen::Vector3d right = Eigen::Vector3d::Zero();
    for (std::size_t i = 0; i < residuals.size(); ++i) {
        const Residual& residual = residuals[i];
        const double turning = cross(residual.place - centre, residual.normal) / reach;
        const Eigen::Vector3d row(residual.normal.x(), residual.normal.y(), turning);
        normal_matrix += weights[i] * row * row.transpose();
        right -= weights[i] * residual.distance * row;
    }
    Eigen::CompleteOrthogonalDecomposition<Eigen::Matrix3d> solver;
    solver.setThreshold(1e-10);
    const Eigen::Vector3d step = solver.compute(normal_matrix).solve(right);
    Transform2 result = Transform2::Identity();
    result.translate(centre + step.head<2>()).rotate(step.z() / reach).translate(-centre);
    return result;
}

double weighted_mean_square(const std::vector<Residual>& residuals,
                            const std::vector<double>& weights) {
    double sum = 0.0;
    for (std::size_t i = 0; i < residuals.size(); ++i)
        sum += weights[i] * residuals[i].distance * residuals[i].distance;
    return sum;
}

/// Lawson's next weights; adds up to 1.
void reweight(std::vector<double>& weights, const std::vector<Residual>& residuals) {
    double sum = 0.0;
    for (std::size_t i = 0; i < weights.size(); ++i) sum += weights[i] *= residuals[i].apart;
    if (!(sum > 0.0)) return;
    for (double& weight : weights) weight /= sum;
}

}  // namespace

Fit fit_motion(const std::vector<TracePair>& pairs, const Transform2& motion, const Point2& centre,
               double reach, double enough) {
    Fit best{motion, INFINITY};
    Transform2 current = motion;
    std::vector<double> weights;
    for (int round = 0; round < least_squares_rounds + weighted_rounds; ++round) {
        const std::vector<Residual> residuals = residuals_of(pairs, current);
        const double deviation = greatest(residuals);
        if (deviation < best.deviation) best = {current, deviation};
        if (best.deviation <= enough) break;
        if (weights.empty()) weights.assign(residuals.size(), 1.0 / double(residuals.size()));
        if (round > 2 && weighted_mean_square(residuals, weights) > enough * enough) break;
        if (round >= least_squares_rounds) reweight(weights, residuals);
        current = small_step(residuals, weights, centre, reach) * current;
    }
    return best;
}

}  // namespace planform::congruence
