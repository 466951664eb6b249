#include "glyphs.hpp"

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <BRep_Builder.hxx>
#include <Geom_BezierCurve.hxx>
#include <TColgp_Array1OfPnt.hxx>
#include <TopoDS_Compound.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Wire.hxx>
#include <gp_Pln.hxx>
#include <map>
#include <vector>

namespace glyphs {
namespace {

using Points = std::vector<gp_Pnt>;

/// Outer contour counter-clockwise, holes clockwise; units of a tenth of the size.
const std::map<char, std::vector<Points>>& table() {
    const auto p = [](double x, double y) { return gp_Pnt(x, y, 0.0); };
    static const std::map<char, std::vector<Points>> glyphs{
        {'L', {{p(0, 0), p(5, 0), p(5, 2), p(2, 2), p(2, 10), p(0, 10)}}},
        {'T', {{p(2, 0), p(4, 0), p(4, 8), p(6, 8), p(6, 10), p(0, 10), p(0, 8), p(2, 8)}}},
        {'S',
         {{p(0, 0), p(6, 0), p(6, 6), p(2, 6), p(2, 8), p(6, 8), p(6, 10), p(0, 10), p(0, 4),
           p(4, 4), p(4, 2), p(0, 2)}}},
        {'O', {{p(0, 0), p(6, 0), p(6, 10), p(0, 10)}, {p(2, 2), p(2, 8), p(4, 8), p(4, 2)}}},
        {'A',
         {{p(0, 0), p(1.6, 0), p(2.2, 3), p(3.8, 3), p(4.4, 0), p(6, 0), p(4, 10), p(2, 10)},
          {p(2.5, 4.5), p(3, 7.5), p(3.5, 4.5)}}},
        {'8',
         {{p(0, 0), p(6, 0), p(6, 10), p(0, 10)},
          {p(2, 2), p(2, 4), p(4, 4), p(4, 2)},
          {p(2, 6), p(2, 8), p(4, 8), p(4, 6)}}},
        {'V', {{p(2, 0), p(4, 0), p(6, 10), p(4.3, 10), p(3, 3), p(1.7, 10), p(0, 10)}}}};
    return glyphs;
}

gp_Pnt between(const gp_Pnt& a, const gp_Pnt& b, double share) {
    return a.Translated(share * gp_Vec(a, b));
}

TopoDS_Wire contour(const Points& corners, double softness) {
    BRepBuilderAPI_MakeWire wire;
    const std::size_t count = corners.size();
    for (std::size_t k = 0; k < count; ++k) {
        const gp_Pnt &before = corners[(k + count - 1) % count], &at = corners[k],
                     &after = corners[(k + 1) % count];
        TColgp_Array1OfPnt poles(1, 3);
        poles(1) = between(at, before, softness);
        poles(2) = at;
        poles(3) = between(at, after, softness);
        wire.Add(BRepBuilderAPI_MakeEdge(new Geom_BezierCurve(poles)).Edge());
        const gp_Pnt next = between(after, at, softness);
        if (poles(3).Distance(next) > 1e-6)
            wire.Add(BRepBuilderAPI_MakeEdge(poles(3), next).Edge());
    }
    return wire.Wire();
}

}  // namespace

std::string letters() {
    std::string all;
    for (const auto& [letter, contours] : table()) all += letter;
    return all;
}

TopoDS_Shape word_body(const std::string& word, double size, double thickness, double softness) {
    TopoDS_Compound bodies;
    BRep_Builder builder;
    builder.MakeCompound(bodies);
    double x = 0.0;
    for (const char letter : word) {
        std::vector<Points> contours = table().at(letter);
        for (Points& points : contours)
            for (gp_Pnt& point : points)
                point = gp_Pnt(x + 0.1 * size * point.X(), 0.1 * size * point.Y(), 0.0);
        BRepBuilderAPI_MakeFace face(gp_Pln(), contour(contours[0], softness));
        for (std::size_t k = 1; k < contours.size(); ++k) face.Add(contour(contours[k], softness));
        builder.Add(bodies, BRepPrimAPI_MakePrism(face.Face(), gp_Vec(0, 0, thickness)).Shape());
        x += 0.7 * size;
    }
    return bodies;
}

}  // namespace glyphs
