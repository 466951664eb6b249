#include "flatten/collect/plane_moves.hpp"

#include <algorithm>
#include <cmath>

namespace planform::flatten {

std::vector<double> plane_moves() {
    std::vector<double> moves;
    for (double move = 2.0 * in_plane; move <= model_precision; move *= 2.0) moves.push_back(move);
    return moves;
}

bool has_vertex_near(const solid::ShapeGraph& graph, double height) {
    return std::any_of(graph.vertices.begin(), graph.vertices.end(), [&](const Point3& vertex) {
        return std::abs(vertex.z() - height) < 2.0 * model_precision;
    });
}

bool is_clear_of_vertices(const solid::ShapeGraph& graph, double height, double move) {
    return std::all_of(graph.vertices.begin(), graph.vertices.end(), [&](const Point3& vertex) {
        return std::abs(vertex.z() - height) >= 0.25 * std::abs(move);
    });
}

}  // namespace planform::flatten
