#pragma once

/// The law of winding: material is where the curves handed to the arrangement wind.

#include <functional>
#include <span>

#include "arrange/chains/input.hpp"
#include "planform/error.hpp"
#include "planform/profile.hpp"
#include "planform/proof.hpp"

namespace planform::proof {

/// A place that the curves wind and the outline leaves out, or the other way round.
class WindingBreach : public GeometryError {
  public:
    WindingBreach(const std::string& message, const Point2& place)
        : GeometryError(ErrorKind::law_broken, message), place_(place) {}
    const Point2& place() const { return place_; }

  private:
    Point2 place_;
};

/// How often a law was asked, and how far off the worst place was, mm.
struct Asked {
    long long checks = 0;
    double largest_deviation = 0.0;
};

/// Holds what was arranged against its input, at places on both sides of each of its curves, one
/// and a half tolerances off (in full, of each curve of the outline, too): the winding numbers
/// there, counted on polygons, say whether the place
/// is material, whatever the arrangement did. It is no breach within half of `tolerance` (mm) of a
/// curve of the input, as in a slit narrower than the tolerance, nor within the tolerance of the
/// outline. `verify` says how many places along one curve: one in quick for a line, two a span for
/// splines of few spans; in full three times as many, in every span. Throws WindingBreach. O(n) for
/// n sides of polygons.
Asked check_winding(const arrange::Input& input,
                    const std::function<bool(const arrange::Winding&)>& inside,
                    std::span<const Profile> profiles, double tolerance, Verify verify);

}  // namespace planform::proof
