#include "mesh.hpp"

#include <BRepBuilderAPI_Copy.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Poly_Triangulation.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Compound.hxx>
#include <TopoDS_Iterator.hxx>
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <unordered_map>

#include "planform/occt.hpp"

namespace corpus {
namespace {

using planform::Point2;
using planform::Point3;

/// Nodes within a cell of this size are one, mm.
constexpr double weld = 1e-6;

struct Cell {
    std::array<std::int64_t, 3> at;
    bool operator==(const Cell&) const = default;
};

struct CellHash {
    std::size_t operator()(const Cell& cell) const {
        std::uint64_t hash = 0;
        for (const std::int64_t k : cell.at)
            hash = (hash ^ static_cast<std::uint64_t>(k)) * 0x9e3779b97f4a7c15U;
        return static_cast<std::size_t>(hash ^ (hash >> 29));
    }
};

void list_edges(Mesh& mesh) {
    struct Use {
        std::array<int, 2> nodes;
        int triangle;
    };
    std::vector<Use> uses;
    uses.reserve(3 * mesh.triangles.size());
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t)
        for (std::size_t k = 0; k < 3; ++k) {
            const int a = mesh.triangles[t][k], b = mesh.triangles[t][(k + 1) % 3];
            uses.push_back({{std::min(a, b), std::max(a, b)}, static_cast<int>(t)});
        }
    std::sort(uses.begin(), uses.end(), [](const Use& a, const Use& b) {
        return a.nodes != b.nodes ? a.nodes < b.nodes : a.triangle < b.triangle;
    });
    for (std::size_t i = 0; i < uses.size();) {
        std::size_t end = i + 1;
        while (end < uses.size() && uses[end].nodes == uses[i].nodes) ++end;
        mesh.edges.push_back(
            {uses[i].nodes, uses[i].triangle, end - i == 2 ? uses[i + 1].triangle : -1});
        i = end;
    }
}

Mesh mesh_of(const TopoDS_Shape& shape) {
    Mesh mesh;
    std::unordered_map<Cell, int, CellHash> known;
    const auto number = [&](const gp_Pnt& p) {
        const auto whole = [](double x) {
            return static_cast<std::int64_t>(std::llround(x / weld));
        };
        const auto [entry, is_new] = known.try_emplace(
            Cell{{whole(p.X()), whole(p.Y()), whole(p.Z())}}, static_cast<int>(mesh.nodes.size()));
        if (is_new) mesh.nodes.emplace_back(p.X(), p.Y(), p.Z());
        return entry->second;
    };
    for (TopExp_Explorer faces(shape, TopAbs_FACE); faces.More(); faces.Next()) {
        TopLoc_Location location;
        const auto triangulation =
            BRep_Tool::Triangulation(TopoDS::Face(faces.Current()), location);
        if (triangulation.IsNull()) {
            ++mesh.bare_faces;
            continue;
        }
        std::vector<int> numbers;
        for (int i = 1; i <= triangulation->NbNodes(); ++i)
            numbers.push_back(
                number(triangulation->Node(i).Transformed(location.Transformation())));
        const bool is_turned = faces.Current().Orientation() == TopAbs_REVERSED;
        for (int i = 1; i <= triangulation->NbTriangles(); ++i) {
            int a = 0, b = 0, c = 0;
            triangulation->Triangle(i).Get(a, b, c);
            if (is_turned) std::swap(b, c);
            const auto at = [&](int k) { return numbers[static_cast<std::size_t>(k - 1)]; };
            mesh.triangles.push_back({at(a), at(b), at(c)});
        }
    }
    list_edges(mesh);
    return mesh;
}

}  // namespace

void Mesh::add(const Mesh& other) {
    const int before = static_cast<int>(nodes.size());
    const int triangles_before = static_cast<int>(triangles.size());
    nodes.insert(nodes.end(), other.nodes.begin(), other.nodes.end());
    for (std::array<int, 3> triangle : other.triangles) {
        for (int& node : triangle) node += before;
        triangles.push_back(triangle);
    }
    for (Edge edge : other.edges) {
        for (int& node : edge.nodes) node += before;
        edge.first += triangles_before;
        if (edge.second >= 0) edge.second += triangles_before;
        edges.push_back(edge);
    }
    bare_faces += other.bare_faces;
}

std::vector<Mesh> meshes_of(const std::vector<planform::Solid>& solids, double deflection) {
    // One copy of all, so that instances of one shape are meshed once.
    TopoDS_Compound all;
    BRep_Builder builder;
    builder.MakeCompound(all);
    for (const planform::Solid& solid : solids) {
        TopoDS_Shape shape = planform::shape_of(solid);
        const bool was_free = shape.Free();
        builder.Add(all, shape);
        // A mark of the shape itself, which is the caller's.
        shape.Free(was_free);
    }
    const TopoDS_Shape copy = BRepBuilderAPI_Copy(all, Standard_False, Standard_False).Shape();
    BRepMesh_IncrementalMesh(copy, deflection, Standard_False, 0.5);
    std::vector<Mesh> meshes;
    for (TopoDS_Iterator item(copy); item.More(); item.Next())
        meshes.push_back(mesh_of(item.Value()));
    return meshes;
}

ProjectedMesh projected(const Mesh& mesh, const planform::Datum& datum) {
    ProjectedMesh result;
    for (const Point3& node : mesh.nodes) result.nodes.push_back(datum.to_datum(node).head<2>());
    const auto at = [&](int node) { return result.nodes[static_cast<std::size_t>(node)]; };
    std::vector<int> signs;
    for (const auto& [a, b, c] : mesh.triangles) {
        const Triangle triangle{at(a), at(b), at(c)};
        const double area = planform::cross(triangle[1] - triangle[0], triangle[2] - triangle[0]);
        const double longest = std::max((triangle[1] - triangle[0]).squaredNorm(),
                                        std::max((triangle[2] - triangle[1]).squaredNorm(),
                                                 (triangle[0] - triangle[2]).squaredNorm()));
        signs.push_back(std::abs(area) <= 1e-9 * longest ? 0 : area > 0.0 ? 1 : -1);
        result.triangles.push_back(triangle);
    }
    for (const Mesh::Edge& edge : mesh.edges) {
        const int first = signs[static_cast<std::size_t>(edge.first)];
        const int second = edge.second < 0 ? 0 : signs[static_cast<std::size_t>(edge.second)];
        if (first * second != 1) result.rims.push_back({at(edge.nodes[0]), at(edge.nodes[1])});
    }
    return result;
}

std::vector<Segment> cut(const Mesh& mesh, const planform::Datum& plane) {
    std::vector<Point3> places;
    for (const Point3& node : mesh.nodes) places.push_back(plane.to_datum(node));
    constexpr double in_plane = 1e-7;  // mm, as section() documents
    std::vector<Segment> segments;
    for (const auto& triangle : mesh.triangles) {
        std::array<Point2, 2> ends;
        std::size_t count = 0;
        for (std::size_t k = 0; k < 3; ++k) {
            Point3 a = places[static_cast<std::size_t>(triangle[k])];
            Point3 b = places[static_cast<std::size_t>(triangle[(k + 1) % 3])];
            const bool a_above = a.z() > -in_plane, b_above = b.z() > -in_plane;
            if (a_above == b_above) continue;
            if (!a_above) std::swap(a, b);  // the same rounding on both sides of an edge
            const double share = std::clamp((a.z() + in_plane) / (a.z() - b.z()), 0.0, 1.0);
            ends[count++] = (a + share * (b - a)).head<2>();
        }
        if (count == 2) segments.push_back({ends[0], ends[1]});
    }
    return segments;
}

}  // namespace corpus
