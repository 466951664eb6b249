#pragma once

/// The nearest place of the pieces that are offered, on the exact curves.

#include <cstdint>
#include <limits>

#include "planform/query.hpp"
#include "query/pieces.hpp"

namespace planform::query {

class NearestSearch {
  public:
    NearestSearch(const Point2& point, const Pieces& pieces) : point_(point), pieces_(pieces) {}

    /// Squared distance to the nearest place so far, mm^2.
    double squared() const { return squared_; }
    void offer(std::uint32_t piece);
    NearestPlace result() const;

  private:
    void take(const Point2& place, int curve, double parameter);
    void offer_line(const offset_detail::Atom& atom, int curve);
    void offer_circle(const offset_detail::Atom& atom, const offset_detail::Bow& bow, int curve);
    void offer_bezier(const detail::BezierPiece& piece, int curve);
    /// The whole curve, once.
    void offer_curve(int curve);

    const Point2& point_;
    const Pieces& pieces_;
    double squared_ = std::numeric_limits<double>::infinity();
    Point2 place_ = Point2::Constant(std::numeric_limits<double>::quiet_NaN());
    int curve_ = -1;
    double parameter_ = std::numeric_limits<double>::quiet_NaN();  ///< NaN: not known yet
    int settled_ = -1;  ///< the curve that was offered as a whole last
};

}  // namespace planform::query
