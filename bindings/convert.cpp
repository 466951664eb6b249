#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

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

double finite(double number, const char* name) {
    if (std::isfinite(number)) return number;
    throw GeometryError(ErrorKind::invalid_argument,
                        std::string(name) + " is not finite; pass a finite number");
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

namespace {

/// Letters to put in, take out or change to make one word of the other: V. I. Levenshtein, "Binary
/// codes capable of correcting deletions, insertions, and reversals", Soviet Physics Doklady 10
/// (1966).
std::size_t changes_between(std::string_view a, std::string_view b) {
    std::vector<std::size_t> row(b.size() + 1);
    std::iota(row.begin(), row.end(), std::size_t{0});
    for (std::size_t i = 1; i <= a.size(); ++i) {
        std::size_t diagonal = row[0];
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t changed = diagonal + (a[i - 1] == b[j - 1] ? 0 : 1);
            diagonal = row[j];
            row[j] = std::min({row[j] + 1, row[j - 1] + 1, changed});
        }
    }
    return row.back();
}

}  // namespace

void refuse_word(std::string_view option, std::string_view word,
                 const std::vector<std::string>& valid) {
    constexpr std::size_t most_words = 13, longest = 40;
    std::vector<std::string> shown = valid;
    const bool are_many = valid.size() > most_words;
    const std::string_view seen = word.substr(0, longest);
    if (are_many) {
        std::stable_sort(shown.begin(), shown.end(), [&](const auto& a, const auto& b) {
            return changes_between(a, seen) < changes_between(b, seen);
        });
        shown.resize(most_words / 2);
    }
    std::string list;
    for (const std::string& one : shown) list += (list.empty() ? "'" : ", '") + one + "'";
    throw GeometryError(
        ErrorKind::unknown_option,
        std::string(option) + " = '" + std::string(seen) + "' is unknown; valid" +
            (are_many ? " (the nearest of " + std::to_string(valid.size()) + "): " : ": ") + list);
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
