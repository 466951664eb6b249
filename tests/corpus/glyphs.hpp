#pragma once

/// Letters as type has them: straight strokes and quadratic curves, with holes.

#include <TopoDS_Shape.hxx>
#include <string>

namespace glyphs {

/// The letters that are known.
std::string letters();

/// A body a letter, side by side along x on the plane z = 0: `size` mm high, `thickness` mm thick.
/// Corners are rounded by quadratic Bezier curves that take `softness` (0 to 0.5) of both legs.
TopoDS_Shape word_body(const std::string& word, double size, double thickness, double softness);

}  // namespace glyphs
