#include "referee.hpp"

#include <BRepClass3d_SolidClassifier.hxx>
#include <IntCurvesFace_ShapeIntersector.hxx>
#include <array>
#include <cmath>
#include <gp_Lin.hxx>

#include "planform/occt.hpp"

namespace corpus {

using planform::Datum;
using planform::Point2;
using planform::Point3;
using planform::Solid;
using planform::Vector2;

namespace {

/// A place and two beside it, in no special direction.
std::array<Point2, 3> around(const Point2& at, double apart) {
    const Vector2 aside = 0.1 * apart * Vector2(0.83, 0.56);
    return {at, at + aside, at - aside};
}

gp_Pnt point(const Point3& p) { return {p.x(), p.y(), p.z()}; }

}  // namespace

std::optional<bool> ray_meets(const std::vector<Solid>& solids, const Datum& datum,
                              const Point2& at, double apart) {
    std::vector<Point2> places{at};
    for (int k = 0; k < 8; ++k) {
        const double angle = 0.25 * planform::pi * (k + 0.37);
        places.push_back(at + 0.2 * apart * Vector2(std::cos(angle), std::sin(angle)));
    }
    const planform::Vector3& n = datum.normal();
    for (const Solid& solid : solids) {
        IntCurvesFace_ShapeIntersector rays;
        rays.Load(planform::shape_of(solid), 1e-7);
        for (const Point2& place : places) {
            rays.Perform(gp_Lin(point(datum.to_model(place)), gp_Dir(n.x(), n.y(), n.z())), -1e6,
                         1e6);
            if (rays.IsDone() && rays.NbPnt() > 0) return true;
        }
    }
    return false;
}

std::optional<bool> lies_in(const Solid& solid, const Datum& plane, const Point2& at,
                            double apart) {
    BRepClass3d_SolidClassifier classifier(planform::shape_of(solid));
    std::optional<bool> said;
    for (const Point2& place : around(at, apart))
        for (const double below : {1e-6, 1e-5}) {
            classifier.Perform(point(plane.to_model(place, -below)), 1e-7);
            const TopAbs_State state = classifier.State();
            if (state != TopAbs_IN && state != TopAbs_OUT) return std::nullopt;
            if (said && *said != (state == TopAbs_IN)) return std::nullopt;
            said = state == TopAbs_IN;
        }
    return said;
}

}  // namespace corpus
