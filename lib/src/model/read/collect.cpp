#include "model/read/collect.hpp"

#include <BRepBuilderAPI_Transform.hxx>
#include <BRepTools.hxx>
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Precision.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopTools_MapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Iterator.hxx>
#include <TopoDS_Solid.hxx>
#include <cmath>
#include <utility>

#include "model/heal/mended_boundaries.hpp"
#include "model/heal/sides.hpp"
#include "planform/error.hpp"

namespace planform::model {

namespace {

std::string counted(int count, const std::string& word, const std::string& several) {
    return std::to_string(count) + " " + (count == 1 ? word : several);
}

std::string counted(int count, const std::string& word) { return counted(count, word, word + "s"); }

std::string describe_open_shell(const TopoDS_Shape& shell, const std::string& name) {
    TopTools_IndexedMapOfShape faces;
    TopExp::MapShapes(shell, TopAbs_FACE, faces);
    return (name.empty() ? "" : "'" + name + "' ") + std::string("(") +
           counted(faces.Extent(), "face") + ", " + counted(free_edge_count(shell), "free edge") +
           ")";
}

/// True for what a rigid movement can do: no scaling, no mirror.
bool is_rigid(const gp_Trsf& movement) {
    return !movement.IsNegative() &&
           std::abs(std::abs(movement.ScaleFactor()) - 1.0) <= TopLoc_Location::ScalePrec();
}

TopoDS_Shape transformed(const TopoDS_Shape& shape, const gp_Trsf& movement) {
    return BRepBuilderAPI_Transform(shape, movement, Standard_True).Shape();
}

TopoDS_Shape scaled_shape(const TopoDS_Shape& shape, double factor) {
    if (factor == 1.0) return shape;
    gp_Trsf scaling;
    scaling.SetScaleFactor(factor);
    return transformed(shape, scaling);
}

TopoDS_Solid solid_of_shells(const TopoDS_Shape& shape, bool reversed) {
    const BRep_Builder builder;
    TopoDS_Solid solid;
    builder.MakeSolid(solid);
    for (TopExp_Explorer shells(shape, TopAbs_SHELL); shells.More(); shells.Next()) {
        builder.Add(solid, reversed ? shells.Current().Reversed() : shells.Current());
    }
    return solid;
}

/// Notes on shells with free edges; empty if the body is closed.
std::vector<std::string> open_shell_notes(const TopoDS_Shape& solid) {
    std::vector<std::string> notes;
    int number = 0;
    for (TopExp_Explorer shells(solid, TopAbs_SHELL); shells.More(); shells.Next()) {
        ++number;
        if (has_unbounded_face(shells.Current())) {
            notes.push_back("shell " + std::to_string(number) +
                            " is not closed: a face has no bounds");
        }
        const int free_edges = free_edge_count(shells.Current());
        if (free_edges == 0) continue;
        notes.push_back("shell " + std::to_string(number) +
                        " is not closed: " + counted(free_edges, "free edge"));
    }
    return notes;
}

void turn_outward(DistinctSolid& distinct) {
    switch (sides_of(distinct.shape)) {
        case Sides::outward:
            return;
        case Sides::inside_out:
            distinct.shape = solid_of_shells(distinct.shape, true);
            distinct.notes.emplace_back("the solid was inside out and has been turned");
            return;
        case Sides::unclear:
            distinct.notes.emplace_back(
                "which side of the solid is the outside can't be told: its volume is negative, but "
                "rays from outside enter it; taken as it was drawn, repair its faces");
    }
}

Transform3 eigen_transform(const gp_Trsf& movement) {
    Transform3 result = Transform3::Identity();
    for (int row = 0; row < 3; ++row) {
        for (int column = 0; column < 4; ++column) {
            result.matrix()(row, column) = movement.Value(row + 1, column + 1);
        }
    }
    return result;
}

}  // namespace

TopLoc_Location scaled(const TopLoc_Location& location, double factor) {
    if (factor == 1.0 || location.IsIdentity()) return location;
    gp_Trsf movement = location.Transformation();
    movement.SetTranslationPart(gp_Vec(movement.TranslationPart()) * factor);
    return TopLoc_Location(movement);
}

int free_edge_count(const TopoDS_Shape& shell) {
    TopTools_MapOfShape odd;  // edges met an odd number of times
    for (TopExp_Explorer edges(shell, TopAbs_EDGE); edges.More(); edges.Next()) {
        const TopoDS_Edge& edge = TopoDS::Edge(edges.Current());
        const bool bounds_material =
            edge.Orientation() == TopAbs_FORWARD || edge.Orientation() == TopAbs_REVERSED;
        if (!bounds_material || BRep_Tool::Degenerated(edge)) continue;
        if (!odd.Add(edge)) odd.Remove(edge);
    }
    return odd.Extent();
}

bool has_unbounded_face(const TopoDS_Shape& shell) {
    for (TopExp_Explorer faces(shell, TopAbs_FACE); faces.More(); faces.Next()) {
        if (TopExp_Explorer(faces.Current(), TopAbs_EDGE).More()) continue;
        double u_low = 0.0, u_high = 0.0, v_low = 0.0, v_high = 0.0;
        BRepTools::UVBounds(TopoDS::Face(faces.Current()), u_low, u_high, v_low, v_high);
        for (const double bound : {u_low, u_high, v_low, v_high}) {
            if (Precision::IsInfinite(bound)) return true;
        }
    }
    return false;
}

std::string LeftOver::describe() const {
    std::string text;
    const auto append = [&](const std::string& part) { text += (text.empty() ? "" : ", ") + part; };
    if (!open_shells.empty()) {
        std::string shells = counted(static_cast<int>(open_shells.size()), "open shell");
        for (size_t i = 0; i < open_shells.size() && i < 10; ++i) {
            shells += (i == 0 ? " " : "; ") + open_shells[i];
        }
        append(shells);
    }
    if (empty_bodies > 0) append(counted(empty_bodies, "body", "bodies") + " without a face");
    if (faces > 0) append(counted(faces, "loose face"));
    if (wires_and_edges > 0) append(counted(wires_and_edges, "loose edge"));
    if (vertices > 0) append(counted(vertices, "loose point"));
    return text;
}

std::vector<FoundSolid> Collector::collect(const TopoDS_Shape& shape, const std::string& name) {
    std::vector<FoundSolid> found;
    if (!shape.IsNull()) visit(shape, name, found);
    return found;
}

void Collector::visit(const TopoDS_Shape& shape, const std::string& name,
                      std::vector<FoundSolid>& found) {
    switch (shape.ShapeType()) {
        case TopAbs_COMPOUND:
        case TopAbs_COMPSOLID:
            for (TopoDS_Iterator parts(shape); parts.More(); parts.Next()) {
                visit(parts.Value(), name, found);
            }
            break;
        case TopAbs_SOLID:
            if (TopExp_Explorer(shape, TopAbs_FACE).More()) {
                take(shape, found);
            } else {
                ++left_over_.empty_bodies;
            }
            break;
        case TopAbs_SHELL:
            if (!TopExp_Explorer(shape, TopAbs_FACE).More()) {
                ++left_over_.empty_bodies;
            } else if (free_edge_count(shape) == 0 && !has_unbounded_face(shape)) {
                take(shape, found);
            } else {
                left_over_.open_shells.push_back(describe_open_shell(shape, name));
            }
            break;
        case TopAbs_FACE:
            ++left_over_.faces;
            break;
        case TopAbs_WIRE:
        case TopAbs_EDGE:
            ++left_over_.wires_and_edges;
            break;
        case TopAbs_VERTEX:
            ++left_over_.vertices;
            break;
        default:
            break;
    }
}

void Collector::take(const TopoDS_Shape& body, std::vector<FoundSolid>& found) {
    const TopLoc_Location& location = body.Location();
    if (is_rigid(location.Transformation())) {
        found.push_back({distinct_of(body.Located({})), scaled(location, factor_), body});
        return;
    }
    // Old BREP files place mirrored or scaled copies by location; such a copy is another shape.
    TopoDS_Shape local = body;
    local.Location({}, Standard_False);
    const TopoDS_Shape baked = transformed(local, location.Transformation());
    found.push_back({distinct_of(baked), {}, body});
}

std::shared_ptr<const DistinctSolid> Collector::distinct_of(const TopoDS_Shape& body) {
    const auto known = distinct_.find(body.TShape().get());
    if (known != distinct_.end()) return known->second;

    auto distinct = std::make_shared<DistinctSolid>();
    distinct->original = body;
    distinct->index = static_cast<int>(distinct_.size());
    TopoDS_Shape shape = body.Oriented(TopAbs_FORWARD);
    if (shape.ShapeType() == TopAbs_SHELL) {
        shape = solid_of_shells(shape, false);
        distinct->notes.push_back("closed shell taken as a solid");
    }
    const std::vector<std::string> open = open_shell_notes(shape);
    distinct->notes.insert(distinct->notes.end(), open.begin(), open.end());
    distinct->shape = scaled_shape(with_mended_boundaries(shape), factor_);
    // The volume of an open shell depends on the origin and tells nothing about its sides.
    if (open.empty()) turn_outward(*distinct);
    distinct_.emplace(body.TShape().get(), distinct);
    return distinct;
}

Solid make_solid(const FoundSolid& found, Label label) {
    auto data = std::make_shared<SolidData>();
    data->shape = found.distinct->shape.Located(found.location);
    data->name = std::move(label.name);
    data->path = std::move(label.path);
    data->color = label.color;
    data->layers = std::move(label.layers);
    data->placement = eigen_transform(found.location.Transformation());
    data->shape_index = found.distinct->index;
    data->part = label.part;
    data->part_name = std::move(label.part_name);
    data->notes = found.distinct->notes;
    data->mass = found.distinct->mass;
    data->boundaries = found.distinct->boundaries;
    return Solid(std::move(data));
}

void throw_no_solid(const std::string& source, const LeftOver& left_over) {
    const std::string holds =
        left_over.empty() ? "no shape at all" : "only " + left_over.describe();
    throw LoadError(ErrorKind::no_solid,
                    source + ": the model holds no solid and no closed shell, " + holds +
                        "; export the part as a solid, or close its shell where it was drawn");
}

Model model_of_shape(const TopoDS_Shape& shape, double factor, std::string unit,
                     const std::string& source, std::vector<std::string> notes) {
    Collector collector(factor);
    const std::vector<FoundSolid> found = collector.collect(shape, "");
    if (found.empty()) throw_no_solid(source, collector.left_over());
    std::vector<Solid> solids;
    for (const FoundSolid& body : found) {
        const auto number = static_cast<int>(solids.size());
        const std::string name = "solid " + std::to_string(number + 1);
        solids.push_back(make_solid(body, {name, {name}, std::nullopt, {}, number, name}));
    }
    if (!collector.left_over().empty()) {
        notes.push_back("left out, as they are no solids: " + collector.left_over().describe());
    }
    return Model(std::move(solids), std::move(unit), source, std::move(notes));
}

}  // namespace planform::model
