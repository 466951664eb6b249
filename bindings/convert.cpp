#include <cmath>
#include <limits>

#include "binding.hpp"

namespace planform::python {

namespace {

template <int dimension>
Eigen::Matrix<double, 2, dimension, Eigen::RowMajor> corners(
    const Eigen::AlignedBox<double, dimension>& box) {
    Eigen::Matrix<double, 2, dimension, Eigen::RowMajor> result;
    if (box.isEmpty()) {
        result.setConstant(std::numeric_limits<double>::quiet_NaN());
    } else {
        result.row(0) = box.min().transpose();
        result.row(1) = box.max().transpose();
    }
    return result;
}

}  // namespace

Points2 to_array(const std::vector<Point2>& points) {
    Points2 result(static_cast<Eigen::Index>(points.size()), 2);
    for (std::size_t i = 0; i < points.size(); ++i) {
        result.row(static_cast<Eigen::Index>(i)) = points[i].transpose();
    }
    return result;
}

Bounds2 to_array(const Box2& box) { return corners<2>(box); }

Bounds3 to_array(const Box3& box) { return corners<3>(box); }

Transform2 to_transform(const Eigen::MatrixXd& matrix) {
    const bool shaped = matrix.cols() == 3 && (matrix.rows() == 2 || matrix.rows() == 3);
    const bool affine =
        shaped && (matrix.rows() == 2 || matrix.row(2) == Eigen::RowVector3d(0.0, 0.0, 1.0));
    if (!affine || !matrix.allFinite()) {
        throw GeometryError(
            ErrorKind::invalid_argument,
            "a transform is a finite matrix of shape (2, 3), or (3, 3) with the last row "
            "0 0 1");
    }
    Transform2 transform = Transform2::Identity();
    transform.linear() = matrix.topLeftCorner<2, 2>();
    transform.translation() = matrix.topRightCorner(matrix.rows(), 1).topRows<2>();
    return transform;
}

py::str to_str(std::string_view text) {
    PyObject* decoded =
        PyUnicode_DecodeUTF8(text.data(), static_cast<Py_ssize_t>(text.size()), "replace");
    if (decoded == nullptr) throw py::error_already_set();
    return py::reinterpret_steal<py::str>(decoded);
}

StrTuple to_strs(const std::vector<std::string>& texts) {
    py::tuple result(texts.size());
    for (std::size_t i = 0; i < texts.size(); ++i) result[i] = to_str(texts[i]);
    return py::reinterpret_borrow<StrTuple>(result);
}

}  // namespace planform::python

namespace pybind11::detail {

bool type_caster<planform::python::SolidList>::load(handle source, bool) {
    if (isinstance<planform::Solid>(source)) {
        value.solids = {source.cast<planform::Solid>()};
        return true;
    }
    if (isinstance<planform::Model>(source)) {
        value.solids = source.cast<const planform::Model&>().solids();
        return true;
    }
    if (!isinstance<iterable>(source)) return false;
    for (const handle item : reinterpret_borrow<iterable>(source)) {
        if (!isinstance<planform::Solid>(item)) return false;
        value.solids.push_back(item.cast<planform::Solid>());
    }
    return true;
}

}  // namespace pybind11::detail
