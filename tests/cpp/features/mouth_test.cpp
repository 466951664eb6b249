/// How deep recesses reach behind their mouths, in plan.

#include "features/mouth.hpp"

#include <doctest/doctest.h>

#include <Geom_Circle.hxx>
#include <Geom_Line.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Ax2.hxx>
#include <random>
#include <vector>

using namespace planform;
using features::EdgeDistance;
using features::Mouth;

namespace {

solid::GraphEdge edge_on(const Handle(Geom_Curve) & curve, double first, double last) {
    solid::GraphEdge edge;
    edge.curve = curve;
    edge.first = first;
    edge.last = last;
    return edge;
}

}  // namespace

TEST_CASE("a mouth of one upright edge is a place") {
    const auto edge = edge_on(new Geom_Line(gp_Pnt(1, 2, 0), gp_Dir(0, 0, 1)), 0.0, 5.0);
    const Mouth mouth(std::vector<EdgeDistance>{EdgeDistance(edge)});
    CHECK(mouth.deeper(0.0, {4.0, 6.0}) == doctest::Approx(5.0).epsilon(1e-12));
    CHECK(mouth.deeper(7.0, {4.0, 6.0}) == 7.0);
    CHECK(mouth.deeper(0.0, {1.0, 2.0}) == 0.0);
}

TEST_CASE("the nearest of many edges: whole circles, by their radii") {
    std::mt19937 random(5);
    std::uniform_real_distribution<double> place(-100.0, 100.0), size(0.5, 8.0);
    std::vector<solid::GraphEdge> edges;
    std::vector<Point2> centers;
    std::vector<double> radii;
    for (int i = 0; i < 300; ++i) {
        centers.emplace_back(place(random), place(random));
        radii.push_back(size(random));
        const gp_Ax2 axes(gp_Pnt(centers.back().x(), centers.back().y(), 3.0), gp_Dir(0, 0, 1));
        edges.push_back(edge_on(new Geom_Circle(axes, radii.back()), 0.0, 2.0 * pi));
    }
    std::vector<EdgeDistance> distances;
    for (const solid::GraphEdge& edge : edges) distances.emplace_back(edge);
    const Mouth mouth(distances);
    for (int i = 0; i < 400; ++i) {
        const Point2 at(1.5 * place(random), 1.5 * place(random));  // beyond them all, too
        double nearest = INFINITY;
        for (std::size_t k = 0; k < centers.size(); ++k)
            nearest = std::min(nearest, std::abs((at - centers[k]).norm() - radii[k]));
        CHECK(std::abs(mouth.deeper(0.0, at) - nearest) < 1e-8);
    }
}
