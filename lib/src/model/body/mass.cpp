#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>

#include "model/body/solid_data.hpp"
#include "model/measure/measure.hpp"

namespace planform::model {

double Mass::volume(const TopoDS_Shape& shape) const {
    std::call_once(volume_once_,
                   [&] { volume_ = measured("volume", [&] { return volume_of(shape); }); });
    return volume_;
}

double Mass::surface_area(const TopoDS_Shape& shape) const {
    std::call_once(area_once_, [&] {
        area_ = measured("surface area", [&] {
            double area = 0.0;
            for (TopExp_Explorer faces(shape, TopAbs_FACE); faces.More(); faces.Next()) {
                area += face_area(TopoDS::Face(faces.Current()));
            }
            return area;
        });
    });
    return area_;
}

const AreaVectors& Mass::area_vectors(const TopoDS_Shape& shape) const {
    std::call_once(vectors_once_, [&] {
        vectors_ = measured("areas", [&] { return model::area_vectors(shape); });
    });
    return vectors_;
}

}  // namespace planform::model
