#include "odd_bodies.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepBndLib.hxx>
#include <BRepBuilderAPI_GTransform.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <BRepLProp_SLProps.hxx>
#include <BRepOffsetAPI_DraftAngle.hxx>
#include <BRepOffsetAPI_MakeOffsetShape.hxx>
#include <BRepOffsetAPI_MakeThickSolid.hxx>
#include <BRepOffsetAPI_ThruSections.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <BRepPrimAPI_MakeRevol.hxx>
#include <BRepPrimAPI_MakeWedge.hxx>
#include <BRep_Tool.hxx>
#include <Bnd_Box.hxx>
#include <Standard_Failure.hxx>
#include <TopExp.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopTools_ListOfShape.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Elips.hxx>
#include <gp_GTrsf.hxx>
#include <gp_Pln.hxx>
#include <random>
#include <vector>

#include "coils.hpp"
#include "flatten/base_outlines.hpp"
#include "flatten/silhouette/random_solids.hpp"
#include "flatten/turned_bodies.hpp"
#include "glyphs.hpp"
#include "model/spline_outlines.hpp"
#include "planform/geometry.hpp"

namespace odd_bodies {
namespace {

using planform::Vector3;

TopTools_IndexedMapOfShape parts_of(const TopoDS_Shape& shape, TopAbs_ShapeEnum kind) {
    TopTools_IndexedMapOfShape parts;
    TopExp::MapShapes(shape, kind, parts);
    return parts;
}

/// As random_solids has it: valid and closed in the kernel's own eyes, vertices not wider than a
/// hundredth of the body's size.
bool is_sound(const TopoDS_Shape& shape) {
    if (shape.IsNull() || parts_of(shape, TopAbs_SOLID).IsEmpty()) return false;
    if (!BRepCheck_Analyzer(shape).IsValid()) return false;
    Bnd_Box box;
    BRepBndLib::AddOptimal(shape, box, Standard_False, Standard_False);
    if (box.IsVoid()) return false;
    const double widest = std::min(0.01, 1e-3 * std::sqrt(box.SquareExtent()));  // mm
    const auto vertices = parts_of(shape, TopAbs_VERTEX);
    for (int i = 1; i <= vertices.Extent(); ++i)
        if (BRep_Tool::Tolerance(TopoDS::Vertex(vertices(i))) > widest) return false;
    const auto shells = parts_of(shape, TopAbs_SHELL);
    for (int i = 1; i <= shells.Extent(); ++i)
        if (!BRep_Tool::IsClosed(shells(i))) return false;
    return true;
}

class Maker {
  public:
    explicit Maker(std::uint64_t seed) : seed_(seed), random_(seed * 7919 + 24) {}

    Body run() {
        Body body;
        try {
            TopoDS_Shape shape = of_kind(seed_ % 14, body.kind);
            if (!is_sound(shape)) return body;
            const int size = whole(0, 15);
            if (size < 2) {
                shape = scaled(shape, size == 0 ? 0.01 : 1e4);
                body.kind += size == 0 ? ", 0.01 mm" : ", 10 m";
                if (!is_sound(shape)) return body;
            }
            body.datum = datum_for(shape);
            body.way = whole(0, 2);
            body.shape = shape;
        } catch (const Standard_Failure&) {
            body.shape.Nullify();  // the kernel's own failure, not ours
        }
        return body;
    }

  private:
    int whole(int low, int high) { return std::uniform_int_distribution<int>(low, high)(random_); }
    double number(double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random_);
    }
    std::uint64_t seed() { return random_() % 100000; }

    TopoDS_Shape of_kind(std::uint64_t kind, std::string& name) {
        switch (kind) {
            case 0:
                name = "shelled";
                return shelled();
            case 1:
                name = "drafted";
                return drafted();
            case 2:
                name = "offset";
                return offset();
            case 3:
                name = "mirrored";
                return mirrored();
            case 4:
                name = "unevenly scaled";
                return unevenly_scaled();
            case 5:
                name = "helical";
                return helical();
            case 6:
                name = "threaded";
                return threaded();
            case 7:
                name = "engraved";
                return engraved();
            case 8:
                name = "lofted";
                return lofted();
            case 9:
                name = "text";
                return text();
            case 10:
                name = "prism";
                return prism();
            case 11:
                name = "revolution";
                return whole(0, 3) == 0 ? lathe() : turned_bodies::turned(seed()).shape;
            case 12:
                name = "tube";
                return turned_bodies::swept(seed()).shape;
            default:
                name = "primitives";
                return random_solids::make(seed()).shape;
        }
    }

    /// A block, a wedge, a cylinder or a prism on a spline, upright from z = 0.
    TopoDS_Shape blank() {
        switch (whole(0, 3)) {
            case 0:
                return BRepPrimAPI_MakeBox(number(8, 20), number(8, 20), number(4, 10)).Shape();
            case 1:
                return BRepPrimAPI_MakeWedge(number(12, 20), number(6, 9), number(12, 20), 3, 3, 8,
                                             8)
                    .Shape();
            case 2:
                return BRepPrimAPI_MakeCylinder(number(4, 9), number(4, 12)).Shape();
            default:
                return base_outlines::prism(base_outlines::random_spline(seed(), 12), number(3, 9),
                                            base_outlines::Walls::extrusions);
        }
    }

    static TopoDS_Face highest_face(const TopoDS_Shape& shape) {
        const auto faces = parts_of(shape, TopAbs_FACE);
        TopoDS_Face found;
        double highest = -1e300;
        for (int i = 1; i <= faces.Extent(); ++i) {
            const BRepAdaptor_Surface surface(TopoDS::Face(faces(i)));
            if (surface.GetType() != GeomAbs_Plane) continue;
            const double z = surface.Plane().Location().Z();
            if (z <= highest || std::abs(surface.Plane().Axis().Direction().Z()) < 0.999) continue;
            highest = z;
            found = TopoDS::Face(faces(i));
        }
        return found;
    }

    TopoDS_Shape shelled() {
        const TopoDS_Shape body = blank();
        TopTools_ListOfShape open;
        const TopoDS_Face lid = highest_face(body);
        if (!lid.IsNull()) open.Append(lid);
        BRepOffsetAPI_MakeThickSolid maker;
        maker.MakeThickSolidByJoin(body, open, whole(0, 1) == 0 ? -number(0.3, 1.0) : 0.6, 1e-4);
        return maker.IsDone() ? maker.Shape() : TopoDS_Shape();
    }

    TopoDS_Shape drafted() {
        TopoDS_Shape body = blank();
        if (whole(0, 1) == 0)
            body = BRepAlgoAPI_Cut(body,
                                   BRepPrimAPI_MakeBox(gp_Pnt(3, 3, -1), gp_Pnt(6, 7, 30)).Shape())
                       .Shape();
        BRepOffsetAPI_DraftAngle maker(body);
        const auto faces = parts_of(body, TopAbs_FACE);
        const double angle = number(0.01, 0.2);
        for (int i = 1; i <= faces.Extent(); ++i) {
            const BRepAdaptor_Surface surface(TopoDS::Face(faces(i)));
            const bool upright = surface.GetType() == GeomAbs_Plane
                                     ? std::abs(surface.Plane().Axis().Direction().Z()) < 1e-9
                                     : surface.GetType() == GeomAbs_Cylinder;
            if (!upright) continue;
            maker.Add(TopoDS::Face(faces(i)), gp_Dir(0, 0, 1), angle, gp_Pln(gp::XOY()));
            if (!maker.AddDone()) maker.Remove(TopoDS::Face(faces(i)));
        }
        maker.Build();
        return maker.IsDone() ? maker.Shape() : TopoDS_Shape();
    }

    TopoDS_Shape offset() {
        BRepOffsetAPI_MakeOffsetShape maker;
        const TopoDS_Shape body = blank();
        maker.PerformByJoin(body, number(0.2, 1.0) * (whole(0, 2) == 0 ? -1.0 : 1.0), 1e-4,
                            BRepOffset_Skin, Standard_False, Standard_False,
                            whole(0, 1) == 0 ? GeomAbs_Arc : GeomAbs_Intersection);
        return maker.IsDone() ? maker.Shape() : TopoDS_Shape();
    }

    TopoDS_Shape mirrored() {
        gp_Trsf mirror;
        mirror.SetMirror(gp_Ax2(gp_Pnt(number(-5, 5), 1, 0), direction()));
        const TopoDS_Shape body = whole(0, 1) == 0 ? random_solids::make(seed()).shape : shelled();
        if (body.IsNull()) return body;
        // As a placement, or with the geometry turned over.
        return BRepBuilderAPI_Transform(body, mirror, whole(0, 1) == 0).Shape();
    }

    TopoDS_Shape unevenly_scaled() {
        const TopoDS_Shape body = whole(0, 1) == 0 ? random_solids::make(seed()).shape
                                                   : turned_bodies::turned(seed()).shape;
        if (body.IsNull()) return body;
        gp_GTrsf stretch;
        stretch.SetVectorialPart(gp_Mat(number(0.4, 2.5), number(-0.5, 0.5), 0, 0, number(0.4, 2.5),
                                        0, number(-0.3, 0.3), 0, number(0.4, 2.5)));
        return BRepBuilderAPI_GTransform(body, stretch, Standard_True).Shape();
    }

    TopoDS_Shape helical() {
        corpus::Coil coil;
        coil.turns = number(0.3, 3.0);
        coil.radius = number(4, 12);
        coil.width = number(0.5, 3.0);
        coil.height = number(0.5, 3.0);
        coil.pitch = std::max(coil.width, coil.height) * number(1.1, 2.0);
        coil.is_round = whole(0, 1) == 0;
        return corpus::coil_body(coil);
    }

    /// A rod with a groove of a few turns, or a ridge.
    TopoDS_Shape threaded() {
        corpus::Coil coil;
        coil.turns = number(1.2, 3.0);
        coil.radius = 5.0;
        coil.pitch = number(1.5, 2.5);
        coil.width = number(0.6, 1.2);
        coil.height = number(0.4, 1.0);
        coil.is_round = whole(0, 3) == 0;
        const TopoDS_Shape tool = corpus::coil_body(coil);
        const gp_Ax2 axis(gp_Pnt(0, 0, -2), gp_Dir(0, 0, 1), gp_Dir(0.6, 0.8, 0));
        const TopoDS_Shape rod = BRepPrimAPI_MakeCylinder(axis, 5.0, 12.0).Shape();
        if (tool.IsNull()) return tool;
        return whole(0, 1) == 0 ? BRepAlgoAPI_Cut(rod, tool).Shape()
                                : BRepAlgoAPI_Fuse(rod, tool).Shape();
    }

    TopoDS_Shape text_prism(double low, double high) {
        std::string word;
        const std::string letters = glyphs::letters();
        for (int k = whole(1, 4); k > 0; --k)
            word +=
                letters[static_cast<std::size_t>(whole(0, static_cast<int>(letters.size()) - 1))];
        gp_Trsf lift;
        lift.SetTranslation(gp_Vec(0, 0, low));
        return BRepBuilderAPI_Transform(
                   glyphs::word_body(word, 8.0, high - low, number(0.05, 0.45)), lift, true)
            .Shape();
    }

    TopoDS_Shape engraved() {
        const TopoDS_Shape plate =
            BRepPrimAPI_MakeBox(gp_Pnt(-2, -2, 0), gp_Pnt(30, 10, 3)).Shape();
        switch (whole(0, 2)) {
            case 0:
                return BRepAlgoAPI_Cut(plate, text_prism(2.0, 4.0)).Shape();
            case 1:
                return BRepAlgoAPI_Cut(plate, text_prism(-1.0, 4.0)).Shape();
            default:
                return BRepAlgoAPI_Fuse(plate, text_prism(2.5, 4.0)).Shape();
        }
    }

    TopoDS_Shape text() {
        const TopoDS_Shape words = text_prism(0.0, number(0.5, 4.0));
        const auto solids = parts_of(words, TopAbs_SOLID);
        return solids.Extent() == 0 ? TopoDS_Shape() : solids(whole(1, solids.Extent()));
    }

    TopoDS_Shape lofted() {
        BRepOffsetAPI_ThruSections loft(Standard_True, whole(0, 1) == 0, 1e-6);
        const int sections = whole(2, 4);
        const bool round = whole(0, 1) == 0;
        for (int k = 0; k < sections; ++k) {
            const double size = number(3, 8), height = 4.0 * k;
            const gp_Ax2 at(gp_Pnt(number(-1, 1), number(-1, 1), height),
                            gp_Dir(number(-0.2, 0.2), number(-0.2, 0.2), 1.0));
            if (round) {
                const gp_Elips ellipse(at, size, size * number(0.3, 1.0));
                loft.AddWire(BRepBuilderAPI_MakeWire(BRepBuilderAPI_MakeEdge(ellipse).Edge()));
            } else {
                loft.AddWire(polygon(at, size, 4));
            }
        }
        loft.Build();
        return loft.IsDone() ? loft.Shape() : TopoDS_Shape();
    }

    TopoDS_Wire polygon(const gp_Ax2& at, double size, int corners) {
        std::vector<gp_Pnt> points;
        for (int k = 0; k < corners; ++k) {
            const double angle = 2.0 * planform::pi * (k + number(-0.2, 0.2)) / corners;
            points.push_back(
                at.Location().Translated(size * std::cos(angle) * gp_Vec(at.XDirection()) +
                                         size * std::sin(angle) * gp_Vec(at.YDirection())));
        }
        BRepBuilderAPI_MakeWire wire;
        for (std::size_t k = 0; k < points.size(); ++k)
            wire.Add(BRepBuilderAPI_MakeEdge(points[k], points[(k + 1) % points.size()]).Edge());
        return wire.Wire();
    }

    TopoDS_Shape prism() {
        switch (whole(0, 3)) {
            case 0:
                return base_outlines::prism(base_outlines::walled(seed(), number(0.0, 0.5)),
                                            number(1, 9), base_outlines::Walls::splines);
            case 1: {
                std::mt19937_64 draw(seed());
                const auto recipe = planform::test::random_recipe(draw, 40);
                return planform::test::outline_prism(planform::test::outline_curve(recipe, draw),
                                                     number(1, 9));
            }
            case 2: {
                std::mt19937_64 draw(seed());
                return planform::test::outline_prism(planform::test::random_chain(draw),
                                                     number(1, 9));
            }
            default: {
                const gp_Elips ellipse(gp_Ax2(gp_Pnt(1, 2, 3), direction()), 9.0, number(0.5, 9.0));
                const TopoDS_Face base = BRepBuilderAPI_MakeFace(
                    BRepBuilderAPI_MakeWire(BRepBuilderAPI_MakeEdge(ellipse).Edge()).Wire());
                const gp_Vec way = number(1, 8) * gp_Vec(ellipse.Axis().Direction()) +
                                   number(0, 3) * gp_Vec(ellipse.XAxis().Direction());
                return BRepPrimAPI_MakePrism(base, way).Shape();
            }
        }
    }

    /// A polygon turned by a part of a turn about an axis beside it.
    TopoDS_Shape lathe() {
        const gp_Ax2 at(gp_Pnt(12, 0, 0), gp_Dir(0, -1, 0), gp_Dir(1, 0, 0));
        const TopoDS_Face face = BRepBuilderAPI_MakeFace(polygon(at, number(2, 6), whole(3, 6)));
        const double angle = whole(0, 1) == 0 ? 2.0 * planform::pi : number(0.2, 6.0);
        return BRepPrimAPI_MakeRevol(face, gp::OZ(), angle).Shape();
    }

    gp_Dir direction() {
        std::normal_distribution<double> normal;
        for (;;) {
            const gp_Vec v(normal(random_), normal(random_), normal(random_));
            if (v.Magnitude() > 1e-3) return gp_Dir(v);
        }
    }

    /// The size becomes `size` mm.
    static TopoDS_Shape scaled(const TopoDS_Shape& shape, double size) {
        Bnd_Box box;
        BRepBndLib::AddOptimal(shape, box, Standard_False, Standard_False);
        gp_Trsf scale;
        scale.SetScale(gp::Origin(), size / std::sqrt(box.SquareExtent()));
        return BRepBuilderAPI_Transform(shape, scale, true).Shape();
    }

    planform::Datum datum_for(const TopoDS_Shape& shape) {
        const planform::Point3 origin(number(-5, 5), number(-5, 5), number(-5, 5));
        const auto along = [&](const gp_Dir& d) {
            const double way = whole(0, 1) == 0 ? 1.0 : -1.0;
            return planform::Datum(origin, way * Vector3(d.X(), d.Y(), d.Z()));
        };
        switch (whole(0, 3)) {
            case 0: {
                const auto edges = parts_of(shape, TopAbs_EDGE);
                const TopoDS_Edge& edge = TopoDS::Edge(edges(whole(1, edges.Extent())));
                if (BRep_Tool::Degenerated(edge)) break;
                const BRepAdaptor_Curve curve(edge);
                gp_Pnt at;
                gp_Vec tangent;
                const double t = number(0.0, 1.0);
                curve.D1((1.0 - t) * curve.FirstParameter() + t * curve.LastParameter(), at,
                         tangent);
                if (tangent.Magnitude() < 1e-9) break;
                return along(gp_Dir(tangent));
            }
            case 1: {
                const auto faces = parts_of(shape, TopAbs_FACE);
                const BRepAdaptor_Surface surface(TopoDS::Face(faces(whole(1, faces.Extent()))));
                const double s = number(0.0, 1.0), t = number(0.0, 1.0);
                BRepLProp_SLProps at(
                    surface, (1.0 - s) * surface.FirstUParameter() + s * surface.LastUParameter(),
                    (1.0 - t) * surface.FirstVParameter() + t * surface.LastVParameter(), 1, 1e-9);
                if (!at.IsNormalDefined()) break;
                return along(at.Normal());
            }
            case 2: {
                const int axis = whole(0, 2);
                return along(axis == 0 ? gp::DX() : axis == 1 ? gp::DY() : gp::DZ());
            }
            default:
                break;
        }
        return along(direction());
    }

    std::uint64_t seed_;
    std::mt19937_64 random_;
};

}  // namespace

Body make(std::uint64_t seed) { return Maker(seed).run(); }

}  // namespace odd_bodies
