#include "flatten/kinds/surface_kind.hpp"

namespace planform::flatten {

const SurfaceKind& kind_of(const solid::FaceSurface& surface) {
    switch (surface.kind()) {
        case GeomAbs_Plane:
            return plane_kind();
        case GeomAbs_Cylinder:
            return cylinder_kind();
        case GeomAbs_Cone:
            return cone_kind();
        case GeomAbs_Sphere:
            return sphere_kind();
        case GeomAbs_Torus:
            return torus_kind();
        case GeomAbs_SurfaceOfExtrusion:
            return extrusion_kind();
        case GeomAbs_SurfaceOfRevolution:
            return revolution_kind();
        default:
            return free_form_kind();
    }
}

}  // namespace planform::flatten
