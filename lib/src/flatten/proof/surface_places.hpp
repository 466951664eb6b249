#pragma once

/// Which places of a solid's surface are held against its shadow.

#include <vector>

#include "proof/surface_place.hpp"
#include "solid/face_surface.hpp"
#include "solid/shape_graph.hpp"

namespace planform::flatten {

/// Adds places along the edges of a face: by a fixed rule from the edges alone, in the middle of
/// each of their pieces (spans of splines, at most an eighth of a circle), `most` an edge at the
/// most. Edges that are `seen` already are left out; the others become so. The edges must have been
/// read.
void add_edge_places(const solid::ShapeGraph& graph, const solid::GraphFace& face, int solid,
                     int most, std::vector<char>& seen, std::vector<proof::SurfacePlace>& places);

/// Adds places inside a face, given by its number: a grid of `count` x `count` over its parameters,
/// those in the face.
void add_inner_places(const solid::FaceSurface& surface, int face, int solid, int count,
                      std::vector<proof::SurfacePlace>& places);

/// The same with places in every span of the surface, however many there are: for faces of which
/// nothing but samples was seen.
void add_places_in_spans(const solid::FaceSurface& surface, int face, int solid,
                         std::vector<proof::SurfacePlace>& places);

}  // namespace planform::flatten
