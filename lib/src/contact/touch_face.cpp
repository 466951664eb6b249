#include "contact/touch_face.hpp"

#include <BRepBndLib.hxx>
#include <BRepGProp.hxx>
#include <Bnd_Box.hxx>
#include <GProp_GProps.hxx>
#include <TopoDS.hxx>
#include <utility>

#include "features/closed_form.hpp"
#include "planform/occt.hpp"
#include "solid/shape_graph.hpp"

namespace planform::contact {
namespace {

/// From the poles of its curves and surface: larger than need be, and quick.
Box3 loose_box(const TopoDS_Face& face) {
    Bnd_Box box;
    BRepBndLib::Add(face, box, Standard_False);
    if (box.IsVoid()) return {};
    double low[3], high[3];
    box.Get(low[0], low[1], low[2], high[0], high[1], high[2]);
    return {Point3(low[0], low[1], low[2]), Point3(high[0], high[1], high[2])};
}

}  // namespace

TouchFace::TouchFace(TopoDS_Face face, int number)
    : face_(std::move(face)), number_(number), box_(loose_box(face_)) {}

const std::optional<model::Plane>& TouchFace::plane() const {
    if (!plane_) plane_ = model::plane_of(face_);
    return *plane_;
}

const solid::SectionSolid& TouchFace::solid() const {
    if (!solid_)
        solid_ =
            std::make_shared<solid::SectionSolid>(solid::build_shape_graph(face_, Datum::xy()));
    return *solid_;
}

const features::FaceView& TouchFace::view() const {
    if (!view_) {
        view_.emplace();
        features::read_closed_form(solid(), 0, *view_);
        features::recognise(solid(), 0, *view_);
    }
    return *view_;
}

const std::vector<solid::FaceSample>& TouchFace::samples() const {
    if (!samples_) samples_ = solid::face_samples(solid(), 0);
    return *samples_;
}

double TouchFace::area() const {
    if (!area_) {
        GProp_GProps properties;
        BRepGProp::SurfaceProperties(face_, properties);
        area_ = properties.Mass();
    }
    return *area_;
}

std::vector<TouchFace> touch_faces(const Solid& solid) {
    const TopTools_IndexedMapOfShape map = model::parts_of(shape_of(solid), TopAbs_FACE);
    std::vector<TouchFace> faces;
    faces.reserve(static_cast<std::size_t>(map.Extent()));
    for (int i = 1; i <= map.Extent(); ++i) faces.emplace_back(TopoDS::Face(map(i)), i);
    return faces;
}

}  // namespace planform::contact
