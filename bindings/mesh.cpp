
#include <pybind11/numpy.h>

#include <algorithm>

#include "binding.hpp"

namespace planform::python {

void bind_mesh(py::module_& module) {
    module.def(
        "_surface_mesh",
        [](const Solid& solid, double tolerance) {
            const SurfaceMesh mesh = [&] {
                const py::gil_scoped_release released;
                return surface_mesh(solid, tolerance);
            }();
            const auto points = static_cast<py::ssize_t>(mesh.points.size());
            const auto triangles = static_cast<py::ssize_t>(mesh.triangles.size());
            py::array_t<double> coordinates({points, py::ssize_t{3}});
            py::array_t<std::uint32_t> numbers({triangles, py::ssize_t{3}});
            double* to = coordinates.mutable_data();
            for (const Point3& point : mesh.points) to = std::copy_n(point.data(), 3, to);
            std::uint32_t* number = numbers.mutable_data();
            for (const auto& triangle : mesh.triangles)
                number = std::copy(triangle.begin(), triangle.end(), number);
            return std::pair(coordinates, numbers);
        },
        py::arg("solid"), py::arg("tolerance"),
        "Points (n, 3) in mm and triangles (m, 3) of a solid's surface.");
}

}  // namespace planform::python
