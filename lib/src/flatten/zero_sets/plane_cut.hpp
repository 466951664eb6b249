#pragma once

/// Where one plane cuts the edges of a solid, and what lies in the plane.

#include <vector>

#include "flatten/collect/outline.hpp"
#include "flatten/collect/plane_moves.hpp"
#include "solid/section_solid.hpp"

namespace planform::flatten {

/// Where an edge passes through the plane.
struct EdgeRoot {
    double at;
    bool rises;  ///< along the edge the height turns from - to +
    int node;
    int at_vertex;  ///< -1: at the start vertex, 1: at the end vertex, 0: between
};

struct EdgeCut {
    bool starts_above = false;
    bool ends_above = false;
    bool lies_in_plane = false;
    std::vector<EdgeRoot> roots;  ///< ascending; signs alternate
};

/// Decides for vertices and edges on which side of the plane they are. What is in the plane within
/// `in_plane` counts as above if the material just below is asked for, as below otherwise, so that
/// no sign is left to rounding; places are those of the plane itself, not of one moved aside. Roots
/// belong to edges, so that two faces that share an edge share its roots: the section closes by
/// construction.
class PlaneCut {
  public:
    PlaneCut(const solid::SectionSolid& solid, double level, Side side, Outline& outline);

    double level() const { return level_; }
    /// The sign of what lies in the plane.
    bool plane_is_above() const { return side_ == Side::below; }
    const EdgeCut& edge(int index) const { return cuts_[static_cast<std::size_t>(index)]; }
    bool vertex_in_plane(int vertex) const {
        return vertex >= 0 && vertex_in_plane_[static_cast<std::size_t>(vertex)] != 0;
    }
    int vertex_node(int vertex);
    /// True for a plane face that lies in the plane as a whole.
    bool face_in_plane(std::size_t face) const { return face_in_plane_[face] != 0; }

  private:
    bool vertex_above(int vertex) const;
    double height(const solid::GraphEdge& edge, double t) const {
        return edge.point(t).z() - level_;
    }
    double vertex_miss(const solid::GraphFace& face, const solid::FaceSurface& surface) const;
    void mark_faces();
    void mark_grazing_faces();
    EdgeCut cut_edge(int index);
    bool is_in_plane(const solid::GraphEdge& edge) const;
    bool stays_in_plane(const solid::GraphEdge& edge, double from, double to,
                        double band = in_plane) const;
    bool only_touches(const solid::GraphEdge& edge, double from, double to, double band) const;
    double root_on_line(const solid::GraphEdge& edge, const EdgeCut& cut) const;
    void place_roots(const solid::GraphEdge& edge, bool grazed, EdgeCut& cut);
    std::vector<double> symbolic_roots(const solid::GraphEdge& edge, const EdgeCut& cut) const;
    static void drop_noise(const solid::GraphEdge& edge, double shifted,
                           std::vector<double>& roots);
    void add_root(const solid::GraphEdge& edge, double at, bool rises, int at_vertex, EdgeCut& cut);

    const solid::SectionSolid& solid_;
    double level_;
    Side side_;
    Outline& outline_;
    std::vector<char> vertex_in_plane_;
    std::vector<char> edge_forced_;
    std::vector<char> edge_grazed_;  ///< belongs to a face that touches the plane along a line
    std::vector<char> face_in_plane_;
    std::vector<int> vertex_nodes_;
    std::vector<EdgeCut> cuts_;
};

}  // namespace planform::flatten
