#pragma once

/// Planar faces of a solid.

#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS_Face.hxx>
#include <optional>

#include "planform/datum.hpp"

namespace planform::model {

struct Plane {
    Point3 point;
    Vector3 outward;  ///< Unit normal, out of the material.
};

/// All parts of a kind, in the order of the topology.
TopTools_IndexedMapOfShape parts_of(const TopoDS_Shape& shape, TopAbs_ShapeEnum kind);

/// The plane of a face, if it is planar: a spline surface within 1e-7 mm counts, too.
std::optional<Plane> plane_of(const TopoDS_Face& face);

/// Tight box of a shape in the frame of a datum.
Box3 box_in(const Datum& datum, const TopoDS_Shape& shape);

}  // namespace planform::model
