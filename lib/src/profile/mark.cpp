#include <algorithm>
#include <cmath>
#include <sstream>

#include "planform/error.hpp"
#include "planform/profile.hpp"
#include "profile/curve_bounds.hpp"

namespace planform {

namespace {

using detail::bounds_of;

void require_depth(double depth) {
    if (!std::isfinite(depth))
        throw GeometryError(ErrorKind::invalid_argument,
                            "the depth of a mark is a finite number of millimetres");
}

void require_chain(const std::vector<Curve>& curves) {
    if (curves.empty())
        throw GeometryError(ErrorKind::invalid_argument, "a mark needs at least one curve");
    for (std::size_t i = 0; i < curves.size(); ++i) {
        try {
            check_curve(curves[i]);
        } catch (const GeometryError& error) {
            throw GeometryError(error.kind(),
                                "curve " + std::to_string(i + 1) + " of a mark: " + error.what());
        }
    }
    const double near = Contour::closure * bounds_of(curves).diagonal().norm();
    for (std::size_t i = 0; i + 1 < curves.size(); ++i) {
        const Point2 end = end_point(curves[i]), next = start_point(curves[i + 1]);
        if ((next - end).norm() <= near) continue;
        std::ostringstream message;
        message.precision(9);
        message << "the mark has a gap: curve " << i + 1 << " ends at (" << end.x() << ", "
                << end.y() << ") mm, curve " << i + 2 << " starts at (" << next.x() << ", "
                << next.y() << ") mm; make two marks of it";
        throw GeometryError(ErrorKind::invalid_argument, message.str());
    }
}

}  // namespace

Mark::Mark(Contour contour, std::string name, double depth)
    : contour_(std::move(contour)), name_(std::move(name)), depth_(depth) {
    require_depth(depth);
}

Mark Mark::open(std::vector<Curve> curves, std::string name, double depth) {
    require_chain(curves);
    require_depth(depth);
    Mark mark;
    mark.chain_ = std::move(curves);
    mark.name_ = std::move(name);
    mark.depth_ = depth;
    return mark;
}

const Contour& Mark::contour() const {
    if (!contour_)
        throw GeometryError(ErrorKind::contour_not_closed,
                            "the mark" + (name_.empty() ? "" : " '" + name_ + "'") +
                                " is open: it has curves, no contour");
    return *contour_;
}

double Mark::length() const {
    double sum = 0.0;
    for (const Curve& curve : curves()) sum += planform::length(curve);
    return sum;
}

Box2 Mark::bounds() const { return bounds_of(curves()); }

std::vector<Point2> Mark::points(double tolerance) const {
    if (contour_) return contour_->points(tolerance);
    std::vector<Point2> vertices;
    for (const Curve& curve : chain_) {
        const std::vector<Point2> piece = planform::points(curve, tolerance);
        vertices.insert(vertices.end(), piece.begin() + (vertices.empty() ? 0 : 1), piece.end());
    }
    return vertices;
}

Mark Mark::transformed(const Transform2& transform) const {
    Mark image = *this;
    if (contour_) image.contour_ = contour_->transformed(transform);
    for (Curve& curve : image.chain_) curve = planform::transformed(curve, transform);
    return image;
}

}  // namespace planform
