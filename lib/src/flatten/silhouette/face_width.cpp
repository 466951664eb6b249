#include "flatten/silhouette/face_width.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <vector>

#include "flatten/bounds/smooth_spans.hpp"

namespace planform::flatten {
namespace {

/// z component of the unit normal up to which a face is a wall.
constexpr double steepest_wall = 0.2;
/// Of the box: samples keep off the boundary, where blends have their noise.
constexpr double rim = 1e-3;

/// Places along one parameter, a few a piece.
std::vector<double> places(const solid::FaceSurface& surface, Parameter along, int steps) {
    constexpr int most = 24;
    const std::vector<double> ends = smooth_spans(surface, along);
    const double low = ends.front(), high = ends.back(), border = rim * (high - low);
    const auto pieces = static_cast<int>(ends.size()) - 1;
    const int a_piece = std::max(steps >= most / pieces ? most / pieces : steps, 1);
    std::vector<double> result;
    for (std::size_t i = 0; i + 1 < ends.size(); ++i)
        for (int k = 0; k < a_piece; ++k)
            result.push_back(ends[i] + (ends[i + 1] - ends[i]) * k / a_piece);
    result.push_back(high);
    for (double& at : result) at = std::clamp(at, low + border, high - border);
    return result;
}

/// A few places inside each piece, however many pieces there are.
std::vector<double> places_in_pieces(const solid::FaceSurface& surface, Parameter along) {
    const GeomAdaptor_Surface& s = surface.adaptor();
    int degree = 0;
    if (s.GetType() == GeomAbs_BezierSurface || s.GetType() == GeomAbs_BSplineSurface)
        degree = along == Parameter::u ? s.UDegree() : s.VDegree();
    return places_inside(smooth_spans(surface, along), std::max(3, degree));
}

/// What is known of a face from some of its places.
class WidthOnDatum {
  public:
    explicit WidthOnDatum(double width) : width_(width) {}

    /// False as soon as the face is wider than allowed, whatever else is found.
    bool still_narrow(const solid::FaceSurface& surface, const std::vector<double>& u,
                      const std::vector<double>& v) {
        std::vector<Point2> last_row(v.size());
        std::vector<double> across(v.size(), 0.0);
        for (std::size_t i = 0; i < u.size(); ++i) {
            Point2 last;
            double along = 0.0;
            for (std::size_t j = 0; j < v.size(); ++j) {
                const solid::SurfacePoint p = surface.first_order({u[i], v[j]});
                look(p);
                const Point2 here = p.position.head<2>();
                if (j > 0) along += (here - last).norm();
                if (i > 0) across[j] += (here - last_row[j]).norm();
                longest_[0] = std::max(longest_[0], across[j]);
                last = last_row[j] = here;
                longest_[1] = std::max(longest_[1], along);
                if (is_wide()) return false;
            }
        }
        return true;
    }

  private:
    void look(const solid::SurfacePoint& p) {
        const Vector3 normal = p.du.cross(p.dv);
        const double size = normal.norm();
        if (size > 0.0) steepest_ = std::max(steepest_, std::abs(normal.z()) / size);
        low_ = std::min(low_, p.position.z());
        high_ = std::max(high_, p.position.z());
    }

    bool is_wide() const {
        const bool is_wall = steepest_ < steepest_wall && steepest_ * (high_ - low_) <= width_;
        return !is_wall && longest_[0] > width_ && longest_[1] > width_;
    }

    double width_;
    double steepest_ = 0.0;  ///< z component of the unit normal
    double low_ = std::numeric_limits<double>::infinity(), high_ = -low_;
    double longest_[2] = {0.0, 0.0};  ///< lines along u and along v, on the datum
};

}  // namespace

bool is_narrower_on_datum(const solid::FaceSurface& surface, double width) {
    if (surface.is_closed_form()) return false;
    WidthOnDatum face(width);
    // From places far apart to many: most faces that are not edge-on are told by the first few.
    for (const int steps : {1, 4, 17})
        if (!face.still_narrow(surface, places(surface, Parameter::u, steps),
                               places(surface, Parameter::v, steps)))
            return false;
    return face.still_narrow(surface, places_in_pieces(surface, Parameter::u),
                             places_in_pieces(surface, Parameter::v));
}

}  // namespace planform::flatten
