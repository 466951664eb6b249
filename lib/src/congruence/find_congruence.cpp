#include <algorithm>
#include <cmath>
#include <deque>

#include "congruence/alignment.hpp"
#include "congruence/figure.hpp"
#include "congruence/fit.hpp"
#include "planform/congruence.hpp"
#include "planform/error.hpp"

namespace planform {

namespace {

using congruence::ContourTrace;
using congruence::Figure;
using congruence::FigureContour;

/// Cheap reasons why no motion can exist: numbers of contours, their areas.
bool may_be_congruent(const Figure& first, const Figure& second, double half_tolerance) {
    const auto& a = first.contours();
    const auto& b = second.contours();
    if (a.size() != b.size()) return false;
    for (std::size_t i = 0; i < a.size(); ++i)
        if (a[i].role != b[i].role) return false;
    // Moved by at most half the tolerance, an outline's area changes by at most that times its
    // length, to first order; twice that leaves room for corners.
    const double allowed =
        2.0 * half_tolerance * (std::max(first.length(), second.length()) + 4.0 * half_tolerance);
    return std::abs(first.area() - second.area()) <= allowed;
}

/// Traces of all contours of a figure, made when first asked for.
class Traces {
  public:
    Traces(const Figure& figure, double chord_tolerance)
        : figure_(figure), chord_tolerance_(chord_tolerance) {}

    const std::deque<ContourTrace>& all() {
        if (traces_.empty())
            for (const FigureContour& contour : figure_.contours())
                traces_.emplace_back(*contour.contour, chord_tolerance_);
        return traces_;
    }

  private:
    const Figure& figure_;
    double chord_tolerance_;
    std::deque<ContourTrace> traces_;
};

class Search {
  public:
    Search(const Figure& first, const Figure& second, double half_tolerance)
        : first_(first),
          second_(second),
          half_tolerance_(half_tolerance),
          first_traces_(first, half_tolerance / 2.0),
          second_traces_(second, half_tolerance / 2.0) {}

    std::optional<Congruence> run(bool mirrored) {
        const congruence::Candidates candidates =
            congruence::candidate_angles(first_, second_, mirrored, half_tolerance_);
        for (const double angle : candidates.angles) {
            const Transform2 motion =
                congruence::motion_about_centres(first_, second_, angle, mirrored);
            const std::vector<std::size_t> partner =
                congruence::partners(first_, second_, motion, half_tolerance_, candidates.slack);
            if (partner.empty()) continue;
            const congruence::Fit fit = congruence::fit_motion(
                pairs_of(partner), motion, second_.centre(), second_.reach(), half_tolerance_);
            if (fit.deviation <= half_tolerance_)
                return Congruence{fit.motion, mirrored, fit.deviation};
        }
        return std::nullopt;
    }

  private:
    std::vector<congruence::TracePair> pairs_of(const std::vector<std::size_t>& partner) {
        std::vector<congruence::TracePair> pairs;
        for (std::size_t i = 0; i < partner.size(); ++i)
            pairs.push_back({&first_traces_.all()[i], &second_traces_.all()[partner[i]]});
        return pairs;
    }

    const Figure& first_;
    const Figure& second_;
    double half_tolerance_;
    Traces first_traces_;
    Traces second_traces_;
};

}  // namespace

std::optional<Congruence> find_congruence(const ProfileSet& first, const ProfileSet& second,
                                          const CongruenceOptions& options) {
    return find_congruence(std::span(&first, 1), std::span(&second, 1), options);
}

std::optional<Congruence> find_congruence(std::span<const ProfileSet> first,
                                          std::span<const ProfileSet> second,
                                          const CongruenceOptions& options) {
    if (!(options.tolerance > 0.0) || !std::isfinite(options.tolerance)) {
        throw GeometryError(ErrorKind::invalid_argument,
                            "the tolerance of a congruence must be a positive finite number (mm)");
    }
    if (first.size() != second.size()) return std::nullopt;
    const Figure a(first), b(second);
    const double extent = 2.0 * std::max(a.reach(), b.reach());
    const double half_tolerance = fit_tolerance(options.tolerance, extent) / 2.0;
    if (!may_be_congruent(a, b, half_tolerance)) return std::nullopt;
    if (a.contours().empty())
        return Congruence{Transform2::Identity(), options.turning == Turning::only, 0.0};
    if (!(a.area() > 0.0)) return std::nullopt;
    Search search(a, b, half_tolerance);
    if (options.turning != Turning::only)
        if (const auto found = search.run(false)) return found;
    if (options.turning == Turning::never) return std::nullopt;
    return search.run(true);
}

}  // namespace planform
