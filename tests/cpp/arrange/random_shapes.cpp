#include "arrange/random_shapes.hpp"

#include <cmath>
#include <random>

#include "arrange/shapes.hpp"

namespace planform::arrange::test {
namespace {

using Random = std::mt19937;

double drawn(Random& random, double low, double high) {
    return low + (high - low) * static_cast<double>(random()) / 4294967296.0;
}

int pick(Random& random, int count) {
    return static_cast<int>(random() % static_cast<unsigned>(count));
}

Point2 point(Random& random) { return {drawn(random, -20, 20), drawn(random, -20, 20)}; }

/// Corners in the order of their angle about a centre, at random distances.
std::vector<Point2> star(Random& random, int corners) {
    const Point2 center = point(random);
    std::vector<Point2> result;
    for (int i = 0; i < corners; ++i) {
        const double angle = 2 * pi * (i + drawn(random, 0, 0.8)) / corners;
        result.push_back(center + drawn(random, 3, 18) * Vector2(std::cos(angle), std::sin(angle)));
    }
    return result;
}

/// A chain of one of the kinds, anywhere.
void add_free_chain(Random& random, Shapes& shapes, int operand) {
    const int weight = pick(random, 5) == 0 ? -1 : 1;
    switch (pick(random, 6)) {
        case 0:
            shapes.polygon(star(random, 3 + pick(random, 6)), operand, weight);
            return;
        case 1: {
            std::vector<Point2> corners;
            for (int i = 0; i < 5; ++i) corners.push_back(point(random));
            shapes.polygon(corners, operand, weight);  // crosses itself
            return;
        }
        case 2:
            shapes.circle(point(random), drawn(random, 2, 15), operand, weight,
                          drawn(random, 0, 6));
            return;
        case 3: {
            const double angle = drawn(random, 0, 6);
            const double size = drawn(random, 4, 18);
            shapes.ellipse(point(random), size * Vector2(std::cos(angle), std::sin(angle)),
                           drawn(random, 0.1, 0.9), operand, weight);
            return;
        }
        case 4: {
            std::vector<Point2> poles = star(random, 5 + pick(random, 4));
            poles.push_back(poles.front());
            shapes.chain({cubic_spline(poles)}, operand, weight);
            return;
        }
        default: {
            // A half disk with a spline for its base.
            const Point2 center = point(random);
            const double radius = drawn(random, 3, 12), angle = drawn(random, 0, 6);
            const Arc arc{center, radius, angle, pi};
            shapes.chain(
                {arc, cubic(end_point(arc), point(random), point(random), start_point(arc))},
                operand, weight);
        }
    }
}

/// A chain on a lattice of 8 x 8, so that ends, edges, circles and tangencies coincide.
void add_lattice_chain(Random& random, Shapes& shapes, int operand) {
    const int weight = pick(random, 4) == 0 ? -1 : 1;
    const auto node = [&] {
        const double x = pick(random, 8);
        return Point2(x, pick(random, 8));
    };
    switch (pick(random, 7)) {
        case 0: {
            const Point2 a = node(), size(1 + pick(random, 4), 1 + pick(random, 4));
            shapes.rectangle(a.x(), a.y(), a.x() + size.x(), a.y() + size.y(), operand, weight);
            return;
        }
        case 1: {
            std::vector<Point2> corners;
            while (corners.size() < 4) {
                const Point2 corner = node();
                if (corners.empty() || (corner != corners.back() && corner != corners.front()))
                    corners.push_back(corner);
            }
            shapes.polygon(corners, operand, weight);
            return;
        }
        case 2:
            shapes.circle(node(), 1 + pick(random, 3), operand, weight, pick(random, 4) * pi / 2);
            return;
        case 3: {
            // A slot: lines with tangent arcs.
            const Point2 a = node();
            const double r = 1 + pick(random, 2), l = 1 + pick(random, 4);
            shapes.chain({Line{a + Vector2(0, -r), a + Vector2(l, -r)},
                          Arc{a + Vector2(l, 0), r, -pi / 2, pi},
                          Line{a + Vector2(l, r), a + Vector2(0, r)}, Arc{a, r, pi / 2, pi}},
                         operand, weight);
            return;
        }
        case 4: {
            // A quarter disk.
            const Point2 a = node();
            const double r = 1 + pick(random, 3);
            shapes.chain(
                {Line{a, a + Vector2(r, 0)}, Arc{a, r, 0, pi / 2}, Line{a + Vector2(0, r), a}},
                operand, weight);
            return;
        }
        case 5:
            shapes.ellipse(node(), pick(random, 2) == 0 ? Vector2(2, 0) : Vector2(0, 3), 0.5,
                           operand, weight);
            return;
        default: {
            const Point2 a = node(), b = a + Vector2(1 + pick(random, 3), 0);
            shapes.chain({Line{a, b}, cubic(b, b + Vector2(0, 2), a + Vector2(0, 2), a)}, operand,
                         weight);
        }
    }
}

}  // namespace

Input random_input(unsigned seed, bool lattice) {
    Random random(seed);
    Shapes shapes;
    const int count = 2 + pick(random, 4);
    for (int i = 0; i < count; ++i) {
        if (lattice) {
            add_lattice_chain(random, shapes, i % 2);
        } else {
            add_free_chain(random, shapes, i % 2);
        }
    }
    return shapes.input();
}

}  // namespace planform::arrange::test
