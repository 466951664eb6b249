#include "arrange/chains/canonical_input.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <tuple>
#include <utility>
#include <variant>
#include <vector>

namespace planform::arrange {
namespace {

/// All that makes up a curve, as a sequence to compare by.
struct Numbers {
    std::vector<double> operator()(const Line& line) const {
        return {line.start.x(), line.start.y(), line.end.x(), line.end.y()};
    }
    std::vector<double> operator()(const Arc& arc) const {
        return {arc.center.x(), arc.center.y(), arc.radius, arc.start_angle, arc.sweep};
    }
    std::vector<double> operator()(const EllipticalArc& arc) const {
        return {arc.center.x(), arc.center.y(),  arc.major.x(), arc.major.y(),
                arc.ratio,      arc.start_angle, arc.sweep};
    }
    std::vector<double> operator()(const Spline& spline) const {
        std::vector<double> numbers{static_cast<double>(spline.degree)};
        numbers.insert(numbers.end(), spline.knots.begin(), spline.knots.end());
        for (const Point2& pole : spline.poles)
            numbers.insert(numbers.end(), pole.data(), pole.data() + 2);
        numbers.insert(numbers.end(), spline.weights.begin(), spline.weights.end());
        return numbers;
    }
};

/// What tells most curves apart: their ends.
struct Key {
    std::array<double, 4> ends;
    std::int32_t index;
};

class ByNumbers {
  public:
    explicit ByNumbers(const Input& input) : input_(input) {}

    bool operator()(const Key& a, const Key& b) const {
        if (a.ends != b.ends) return a.ends < b.ends;
        const DirectedCurve& ca = curve(a);
        const DirectedCurve& cb = curve(b);
        const auto small = [](const DirectedCurve& c) {
            return std::tuple(c.curve.index(), c.operand, c.weight);
        };
        if (small(ca) != small(cb)) return small(ca) < small(cb);
        const std::vector<double> na = std::visit(Numbers{}, ca.curve);
        const std::vector<double> nb = std::visit(Numbers{}, cb.curve);
        if (na != nb) return na < nb;
        return std::tie(ca.tag, a.index) < std::tie(cb.tag, b.index);
    }

  private:
    const DirectedCurve& curve(const Key& key) const {
        return input_.curves[static_cast<std::size_t>(key.index)];
    }

    const Input& input_;
};

}  // namespace

Input in_canonical_order(const Input& input) {
    std::vector<Key> keys;
    keys.reserve(input.curves.size());
    for (std::size_t i = 0; i < input.curves.size(); ++i) {
        const Point2& start = input.nodes[static_cast<std::size_t>(input.curves[i].start_node)];
        const Point2& end = input.nodes[static_cast<std::size_t>(input.curves[i].end_node)];
        keys.push_back({{start.x(), start.y(), end.x(), end.y()}, static_cast<std::int32_t>(i)});
    }
    std::sort(keys.begin(), keys.end(), ByNumbers(input));

    Input sorted;
    sorted.nodes.reserve(input.nodes.size());
    sorted.curves.reserve(input.curves.size());
    std::vector<int> renumbered(input.nodes.size(), -1);
    const auto node = [&](int old) {
        int& number = renumbered[static_cast<std::size_t>(old)];
        if (number < 0) {
            number = static_cast<int>(sorted.nodes.size());
            sorted.nodes.push_back(input.nodes[static_cast<std::size_t>(old)]);
        }
        return number;
    };
    for (const Key& key : keys) {
        DirectedCurve curve = input.curves[static_cast<std::size_t>(key.index)];
        curve.start_node = node(curve.start_node);
        curve.end_node = node(curve.end_node);
        sorted.curves.push_back(std::move(curve));
    }
    return sorted;
}

}  // namespace planform::arrange
