#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <optional>
#include <string>

#include "model/guarded.hpp"
#include "model/measure/planar_face.hpp"
#include "planform/error.hpp"
#include "planform/occt.hpp"

namespace planform {

namespace {

Datum datum_of_face(const Solid& solid, int number) {
    const TopTools_IndexedMapOfShape faces = model::parts_of(shape_of(solid), TopAbs_FACE);
    const std::string which = "solid '" + solid.name() + "': face " + std::to_string(number);
    if (number < 1 || number > faces.Extent()) {
        throw GeometryError(ErrorKind::invalid_argument,
                            which + " does not exist; faces have the numbers 1 to " +
                                std::to_string(faces.Extent()));
    }
    const std::optional<model::Plane> plane = model::plane_of(TopoDS::Face(faces(number)));
    if (!plane) {
        throw GeometryError(ErrorKind::invalid_argument,
                            which + " is not planar; name a planar face or give origin and normal");
    }
    return Datum(plane->point.dot(plane->outward) * plane->outward, plane->outward);
}

}  // namespace

Datum face_datum(const Solid& solid, int face) {
    return model::guarded(solid, [&] { return datum_of_face(solid, face); });
}

}  // namespace planform
