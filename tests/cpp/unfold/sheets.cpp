#include "unfold/sheets.hpp"

#include <doctest/doctest.h>

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <BRepGProp.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <GC_MakeArcOfCircle.hxx>
#include <GProp_GProps.hxx>
#include <cmath>
#include <gp_Ax2.hxx>
#include <gp_Ax3.hxx>
#include <gp_Elips.hxx>
#include <limits>

#include "planform/boolean.hpp"
#include "planform/congruence.hpp"
#include "planform/memory.hpp"
#include "planform/occt.hpp"

namespace sheets {

using namespace planform;

namespace {

/// A place of the cross-section on the lower side, and the direction in which it goes on.
struct Along {
    double x = 0.0, z = 0.0, direction = 0.0;
};

gp_Pnt at(const Along& along, double height) {
    return {along.x - height * std::sin(along.direction), 0.0,
            along.z + height * std::cos(along.direction)};
}

Along straight(Along from, double length) {
    from.x += length * std::cos(from.direction);
    from.z += length * std::sin(from.direction);
    return from;
}

Along bent(Along from, double thickness, const Flange& flange) {
    // About the axis: above the upper side if the bend goes up, else below the lower side.
    const double turn = flange.up ? flange.angle : -flange.angle;
    const double axis = flange.up ? thickness + flange.radius : -flange.radius;
    const gp_Pnt center = at(from, axis);
    Along to = from;
    to.direction += turn;
    to.x = center.X() + axis * std::sin(to.direction);
    to.z = center.Z() - axis * std::cos(to.direction);
    return to;
}

void add_line(std::vector<TopoDS_Edge>& edges, const gp_Pnt& from, const gp_Pnt& to) {
    if (from.Distance(to) > 1e-9) edges.push_back(BRepBuilderAPI_MakeEdge(from, to).Edge());
}

void add_arc(std::vector<TopoDS_Edge>& edges, const gp_Pnt& from, const gp_Pnt& middle,
             const gp_Pnt& to) {
    if (from.Distance(to) > 1e-9)
        edges.push_back(
            BRepBuilderAPI_MakeEdge(GC_MakeArcOfCircle(from, middle, to).Value()).Edge());
}

TopoDS_Shape moved(const TopoDS_Shape& shape, const gp_Trsf& motion) {
    return BRepBuilderAPI_Transform(shape, motion, Standard_True).Shape();
}

gp_Trsf frame(const gp_Pnt& origin, const gp_Dir& z, const gp_Dir& x) {
    gp_Trsf to_frame;
    to_frame.SetTransformation(gp_Ax3(origin, z, x));
    return to_frame.Inverted();
}

}  // namespace

TopoDS_Shape strip(double thickness, double width, double first, const std::vector<Flange>& rest) {
    std::vector<TopoDS_Edge> lower, upper;
    Along here;
    Along next = straight(here, first);
    add_line(lower, at(here, 0.0), at(next, 0.0));
    add_line(upper, at(here, thickness), at(next, thickness));
    here = next;
    for (const Flange& flange : rest) {
        next = bent(here, thickness, flange);
        Flange half = flange;
        half.angle *= 0.5;
        const Along middle = bent(here, thickness, half);
        for (const bool is_upper : {false, true}) {
            const double height = is_upper ? thickness : 0.0;
            add_arc(is_upper ? upper : lower, at(here, height), at(middle, height),
                    at(next, height));
        }
        here = next;
        next = straight(here, flange.length);
        add_line(lower, at(here, 0.0), at(next, 0.0));
        add_line(upper, at(here, thickness), at(next, thickness));
        here = next;
    }
    BRepBuilderAPI_MakeWire wire;
    for (const TopoDS_Edge& edge : lower) wire.Add(edge);
    wire.Add(BRepBuilderAPI_MakeEdge(at(here, 0.0), at(here, thickness)).Edge());
    for (auto edge = upper.rbegin(); edge != upper.rend(); ++edge) wire.Add(*edge);
    wire.Add(BRepBuilderAPI_MakeEdge(gp_Pnt(0, 0, thickness), gp_Pnt(0, 0, 0)).Edge());
    REQUIRE(wire.IsDone());
    return BRepPrimAPI_MakePrism(BRepBuilderAPI_MakeFace(wire.Wire(), Standard_True).Face(),
                                 gp_Vec(0.0, width, 0.0))
        .Shape();
}

double strip_length(double thickness, double k_factor, double first,
                    const std::vector<Flange>& rest) {
    double length = first;
    for (const Flange& flange : rest)
        length += flange.length + flange.angle * (flange.radius + k_factor * thickness);
    return length;
}

BentSheet::BentSheet(double thickness, double k_factor, double width, double height)
    : thickness_(thickness), k_factor_(k_factor) {
    body_ = BRepPrimAPI_MakeBox(width, height, thickness).Shape();
    walls_.push_back({gp_Trsf(), Transform2::Identity(), width, height});
    pieces_.push_back(rectangle(Transform2::Identity(), width, height));
    area_ = width * height;
    volume_ = area_ * thickness;
}

ProfileSet BentSheet::rectangle(const Transform2& at, double width, double height) const {
    const std::vector<Point2> corners{{0.0, 0.0}, {width, 0.0}, {width, height}, {0.0, height}};
    std::vector<Curve> curves;
    for (std::size_t i = 0; i < 4; ++i)
        curves.push_back(Line{at * corners[i], at * corners[(i + 1) % 4]});
    return ProfileSet({Profile(Contour(curves))}, {}, Datum::xy(), 1e-6);
}

int BentSheet::attach(int number, int edge, double from, double to, const Flange& flange) {
    const Wall wall = walls_[static_cast<std::size_t>(number)];
    // The edge's frame: origin at `from`, x away from the wall, y along the edge.
    const std::vector<Point2> corners{
        {wall.width, 0.0}, {wall.width, wall.height}, {0.0, wall.height}, {0.0, 0.0}};
    const std::vector<Vector2> ways{{0.0, 1.0}, {-1.0, 0.0}, {0.0, -1.0}, {1.0, 0.0}};
    const auto index = static_cast<std::size_t>(edge);
    const Vector2 way = ways[index];
    const Point2 origin = corners[index] + from * way;
    const Vector2 away(way.y(), -way.x());
    const gp_Trsf edge_frame = frame(gp_Pnt(origin.x(), origin.y(), 0.0), gp_Dir(0, 0, 1),
                                     gp_Dir(away.x(), away.y(), 0.0));
    const double width = to - from;
    const TopoDS_Shape piece =
        moved(strip(thickness_, width, 0.0, {flange}), wall.placed * edge_frame);
    body_ = BRepAlgoAPI_Fuse(body_, piece).Shape();

    const Along end = bent({}, thickness_, flange);
    const gp_Trsf wall_frame = frame(gp_Pnt(end.x, 0.0, end.z),
                                     gp_Dir(-std::sin(end.direction), 0.0, std::cos(end.direction)),
                                     gp_Dir(std::cos(end.direction), 0.0, std::sin(end.direction)));
    Transform2 flat = wall.flat;
    Transform2 to_edge = Transform2::Identity();
    to_edge.linear().col(0) = away;
    to_edge.linear().col(1) = way;
    to_edge.translation() = origin;
    const double allowance = flange.angle * (flange.radius + k_factor_ * thickness_);
    Transform2 shift = Transform2::Identity();
    shift.translation() = Vector2(allowance, 0.0);
    const Transform2 at_edge = flat * to_edge;
    pieces_.push_back(rectangle(at_edge, allowance, width));
    pieces_.push_back(rectangle(at_edge * shift, flange.length, width));
    area_ += (allowance + flange.length) * width;
    volume_ +=
        thickness_ * width * (flange.length + flange.angle * (flange.radius + 0.5 * thickness_));
    walls_.push_back(
        {wall.placed * edge_frame * wall_frame, at_edge * shift, flange.length, width, flange});
    bends_.push_back(flange);
    return static_cast<int>(walls_.size()) - 1;
}

void BentSheet::drill(int number, const Point2& place, double diameter) {
    const Wall& wall = walls_[static_cast<std::size_t>(number)];
    const gp_Ax2 axis(gp_Pnt(place.x(), place.y(), -0.5 * thickness_), gp_Dir(0, 0, 1));
    const TopoDS_Shape drill =
        BRepPrimAPI_MakeCylinder(axis, 0.5 * diameter, 2.0 * thickness_).Shape();
    body_ = BRepAlgoAPI_Cut(body_, moved(drill, wall.placed)).Shape();
    const Arc arc{wall.flat * place, 0.5 * diameter, 0.0, 2.0 * pi};
    holes_.push_back(ProfileSet({Profile(Contour({arc}))}, {}, Datum::xy(), 1e-6));
    const double area = 0.25 * pi * diameter * diameter;
    area_ -= area;
    volume_ -= area * thickness_;
}

void BentSheet::cut(int number, const Point2& place, double width, double height) {
    const Wall& wall = walls_[static_cast<std::size_t>(number)];
    const TopoDS_Shape block = BRepPrimAPI_MakeBox(gp_Pnt(place.x(), place.y(), -0.5 * thickness_),
                                                   width, height, 2.0 * thickness_)
                                   .Shape();
    body_ = BRepAlgoAPI_Cut(body_, moved(block, wall.placed)).Shape();
    Transform2 shift = Transform2::Identity();
    shift.translation() = place;
    holes_.push_back(rectangle(wall.flat * shift, width, height));
    area_ -= width * height;
    volume_ -= width * height * thickness_;
}

BentSheet::Bore BentSheet::through_bend(const Wall& wall, double along, double half_width) const {
    // In the frame of the wall after it the axis lies above or below its first corner.
    const Flange& flange = wall.before;
    const double height = flange.up ? thickness_ + flange.radius : -flange.radius;
    // From the axis to the wall's corner, turned back by half of the angle.
    const double sign = flange.up ? -1.0 : 1.0;
    const double back = 0.5 * flange.angle;
    const gp_Dir direction(-std::sin(back), 0.0, sign * std::cos(back));
    // From the axis on, or from before it where what is wider than the bend meets its walls.
    const double inside = (flange.radius - half_width * std::sin(back)) / std::cos(back);
    const double start = std::min(0.0, inside - 0.5 * thickness_);
    const gp_Pnt origin = gp_Pnt(0.0, along, height).Translated(start * gp_Vec(direction.XYZ()));
    return {{origin, direction, gp_Dir(0.0, 1.0, 0.0)}, flange.radius + 2.0 * thickness_ - start};
}

void BentSheet::drill_bend(int number, double along, double diameter) {
    const Wall& wall = walls_[static_cast<std::size_t>(number)];
    const Bore bore = through_bend(wall, along, 0.5 * diameter);
    const TopoDS_Shape drill =
        BRepPrimAPI_MakeCylinder(bore.frame, 0.5 * diameter, bore.depth).Shape();
    body_ = BRepAlgoAPI_Cut(body_, moved(drill, wall.placed)).Shape();
}

void BentSheet::cut_bend(int number, double along, const Outline& outline) {
    const Wall& wall = walls_[static_cast<std::size_t>(number)];
    const Bore bore = through_bend(wall, along, 0.5 * outline.width);
    const TopoDS_Face face = BRepBuilderAPI_MakeFace(outline.wire, Standard_True).Face();
    const TopoDS_Shape tool = BRepPrimAPI_MakePrism(face, gp_Vec(0.0, 0.0, bore.depth)).Shape();
    gp_Trsf to_bend;
    to_bend.SetTransformation(gp_Ax3(bore.frame));
    body_ = BRepAlgoAPI_Cut(body_, moved(tool, wall.placed * to_bend.Inverted())).Shape();
}

ProfileSet BentSheet::outline() const {
    ProfileSet result = united(std::span(pieces_));
    for (const ProfileSet& hole : holes_) result = planform::difference(result, hole);
    return result;
}

Outline ellipse(double length, double width) {
    const gp_Elips curve(gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1), gp_Dir(1, 0, 0)), 0.5 * length,
                         0.5 * width);
    return {BRepBuilderAPI_MakeWire(BRepBuilderAPI_MakeEdge(curve).Edge()).Wire(), width};
}

Outline slot(double length, double width) {
    const double x = 0.5 * (length - width), r = 0.5 * width;
    std::vector<TopoDS_Edge> edges;
    add_line(edges, {-x, -r, 0.0}, {x, -r, 0.0});
    add_arc(edges, {x, -r, 0.0}, {x + r, 0.0, 0.0}, {x, r, 0.0});
    add_line(edges, {x, r, 0.0}, {-x, r, 0.0});
    add_arc(edges, {-x, r, 0.0}, {-x - r, 0.0, 0.0}, {-x, -r, 0.0});
    BRepBuilderAPI_MakeWire wire;
    for (const TopoDS_Edge& edge : edges) wire.Add(edge);
    return {wire.Wire(), width};
}

Solid solid_of(const TopoDS_Shape& shape) {
    const Model model = from_shape(shape);
    REQUIRE(model.solids().size() == 1);
    return model.solids().front();
}

Blank unfolded(const TopoDS_Shape& shape, double k_factor, double tolerance) {
    UnfoldOptions options;
    options.rule.kind = BendRuleKind::k_factor;
    options.rule.k_factor = k_factor;
    options.tolerance = tolerance;
    const Solid solid = solid_of(shape);
    const std::string before = brep_bytes(solid);
    Blank blank = unfold(solid, options);
    CHECK((brep_bytes(solid) == before));
    return blank;
}

UnfoldRefusal refused(const TopoDS_Shape& shape) {
    const Solid solid = solid_of(shape);
    const std::string before = brep_bytes(solid);
    const Unfolding unfolding = try_unfold(solid);
    CHECK((brep_bytes(solid) == before));
    CHECK_MESSAGE(!unfolding.blank, "unfolded, though it should not be");
    return unfolding.refusal;
}

double volume(const TopoDS_Shape& shape) {
    GProp_GProps properties;
    BRepGProp::VolumeProperties(shape, properties);
    return properties.Mass();
}

double difference(const ProfileSet& first, const ProfileSet& second, double tolerance,
                  bool mirrored) {
    CongruenceOptions options;
    options.tolerance = tolerance;
    options.turning = mirrored ? Turning::only : Turning::never;
    // By what is cut: one of the two may have bend lines.
    const auto found = find_congruence(first.with_marks({}), second.with_marks({}), options);
    return found ? found->deviation : std::numeric_limits<double>::infinity();
}

}  // namespace sheets
