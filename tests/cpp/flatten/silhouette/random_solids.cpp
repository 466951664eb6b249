#include "flatten/silhouette/random_solids.hpp"

#include <BRepAlgoAPI_Common.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <BRepFilletAPI_MakeChamfer.hxx>
#include <BRepFilletAPI_MakeFillet.hxx>
#include <BRep_Tool.hxx>
#include <Standard_Failure.hxx>
#include <TopExp.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <sstream>

#include "flatten/bodies.hpp"

namespace random_solids {
namespace {

using planform::Point3;
using planform::Vector3;

class Maker {
  public:
    explicit Maker(std::uint64_t seed) : random_(seed), on_grid_(seed % 2 == 1) {}

    Case run() {
        Case made;
        try {
            TopoDS_Shape shape = primitive();
            const int more = whole(1, 3);
            for (int i = 0; i < more; ++i) combine(shape);
            const int finish = whole(0, 3);
            if (finish == 1) round_edges(shape);
            if (finish == 2) chamfer_edges(shape);
            if (is_solid(shape)) made.shape = shape;
        } catch (const Standard_Failure&) {
            // Left null: the kernel's own failure, not ours.
        }
        made.datum = datum();
        made.description = words_.str();
        return made;
    }

  private:
    /// Valid and closed in the kernel's own eyes: its booleans now and then leave a shell open, and
    /// its fillets a vertex whose tolerance spans millimetres, so that the edges that end there are
    /// as far apart.
    static bool is_solid(const TopoDS_Shape& shape) {
        if (shape.IsNull() || !BRepCheck_Analyzer(shape).IsValid()) return false;
        constexpr double widest_vertex = 0.01;  // mm
        TopTools_IndexedMapOfShape vertices;
        TopExp::MapShapes(shape, TopAbs_VERTEX, vertices);
        for (int i = 1; i <= vertices.Extent(); ++i)
            if (BRep_Tool::Tolerance(TopoDS::Vertex(vertices(i))) > widest_vertex) return false;
        TopTools_IndexedMapOfShape shells;
        TopExp::MapShapes(shape, TopAbs_SHELL, shells);
        for (int i = 1; i <= shells.Extent(); ++i)
            if (!BRep_Tool::IsClosed(shells(i))) return false;
        return true;
    }

    int whole(int low, int high) { return std::uniform_int_distribution<int>(low, high)(random_); }
    double number(double low, double high) {
        if (on_grid_) return whole(static_cast<int>(low), static_cast<int>(high));
        return std::uniform_real_distribution<double>(low, high)(random_);
    }

    gp_Dir direction() {
        if (on_grid_) {
            const int axis = whole(0, 2);
            return {axis == 0 ? 1.0 : 0.0, axis == 1 ? 1.0 : 0.0, axis == 2 ? 1.0 : 0.0};
        }
        const Vector3 v = bodies::random_direction(random_);
        return {v.x(), v.y(), v.z()};
    }

    gp_Ax2 frame() {
        const gp_Pnt origin(number(-6, 6), number(-6, 6), number(-6, 6));
        return {origin, direction()};
    }

    TopoDS_Shape primitive() {
        const gp_Ax2 at = frame();
        switch (whole(0, 4)) {
            case 0: {
                words_ << " box";
                return BRepPrimAPI_MakeBox(at, number(3, 12), number(3, 12), number(3, 12)).Shape();
            }
            case 1:
                words_ << " cylinder";
                return BRepPrimAPI_MakeCylinder(at, number(2, 6), number(3, 14)).Shape();
            case 2: {
                words_ << " cone";
                const double low = number(3, 6), high = number(0, 2);
                return BRepPrimAPI_MakeCone(at, low, high, number(3, 12)).Shape();
            }
            case 3:
                words_ << " sphere";
                return BRepPrimAPI_MakeSphere(at, number(3, 7)).Shape();
            default:
                words_ << " torus";
                return BRepPrimAPI_MakeTorus(at, number(5, 8), number(1, 3)).Shape();
        }
    }

    void combine(TopoDS_Shape& shape) {
        const bool cut = whole(0, 1) == 1;
        words_ << (cut ? " minus" : " plus");
        const TopoDS_Shape tool = primitive();
        const TopoDS_Shape result =
            cut ? BRepAlgoAPI_Cut(shape, tool).Shape() : BRepAlgoAPI_Fuse(shape, tool).Shape();
        TopTools_IndexedMapOfShape solids;
        TopExp::MapShapes(result, TopAbs_SOLID, solids);
        if (!solids.IsEmpty()) shape = result;
    }

    static bool touch(const TopoDS_Edge& a, const TopoDS_Edge& b) {
        TopoDS_Vertex common;
        return a.IsSame(b) || TopExp::CommonVertex(a, b, common);
    }

    /// Two edges that don't touch: where finished edges meet, the kernel now and then never
    /// returns.
    template <class Build>
    void finish(TopoDS_Shape& shape, Build& build, double size) {
        TopTools_IndexedMapOfShape edges;
        TopExp::MapShapes(shape, TopAbs_EDGE, edges);
        const TopoDS_Edge first = TopoDS::Edge(edges(whole(1, edges.Extent())));
        const TopoDS_Edge second = TopoDS::Edge(edges(whole(1, edges.Extent())));
        build.Add(size, first);
        if (!touch(first, second)) build.Add(size, second);
        build.Build();
        if (build.IsDone() && BRepCheck_Analyzer(build.Shape()).IsValid()) shape = build.Shape();
    }

    void round_edges(TopoDS_Shape& shape) {
        words_ << ", rounded";
        try {
            BRepFilletAPI_MakeFillet build(shape);
            finish(shape, build, on_grid_ ? 0.5 : number(0.2, 0.8));
        } catch (const Standard_Failure&) {
            words_ << " (refused)";
        }
    }

    void chamfer_edges(TopoDS_Shape& shape) {
        words_ << ", chamfered";
        try {
            BRepFilletAPI_MakeChamfer build(shape);
            finish(shape, build, on_grid_ ? 0.5 : number(0.2, 0.8));
        } catch (const Standard_Failure&) {
            words_ << " (refused)";
        }
    }

    planform::Datum datum() {
        if (!on_grid_) return bodies::random_datum(random_);
        switch (whole(0, 2)) {
            case 0:
                words_ << ", xy";
                return planform::Datum::xy();
            case 1:
                words_ << ", xz";
                return planform::Datum::xz();
            default:
                words_ << ", yz";
                return planform::Datum::yz();
        }
    }

    std::mt19937_64 random_;
    bool on_grid_;
    std::ostringstream words_;
};

}  // namespace

Case make(std::uint64_t seed) {
    // Open CASCADE 7.6 reads through a null pointer when it fillets these.
    const bool crashes_the_kernel = seed == 1785 || seed == 8733;
    return crashes_the_kernel ? Case() : Maker(seed).run();
}

}  // namespace random_solids
