#include "unfold/sheet_body.hpp"

#include <cmath>

#include "model/measure/measure.hpp"
#include "unfold/face_measure.hpp"

namespace planform::unfolding {

namespace {

/// Normals closer than this make one surface go on as another, rad: files round directions, and
/// the least bend is far larger.
constexpr double smooth_within = 5e-3;
/// A spline within this share of the body's size, and this many mm, of a plane, cylinder or cone is
/// one.
constexpr double recognition_share = 1e-6;
constexpr double most_recognition = 1e-3;
/// Places of an edge that are looked at.
constexpr double shares_along[] = {0.0, 0.25, 0.5, 0.75, 1.0};

}  // namespace

SheetBody::SheetBody(const TopoDS_Shape& shape, const SheetBody* drawn)
    : graph(solid::build_shape_graph(shape, Datum::xy())), shape_(shape) {
    constexpr std::size_t count = std::size(shares_along);
    std::vector<Point3> along_edges(count * graph.edges.size());
    forms.resize(graph.edges.size());
    for (std::size_t i = 0; i < graph.edges.size(); ++i) {
        if (graph.edges[i].degenerate()) continue;
        forms[i].emplace(graph.edges[i]);
        for (std::size_t k = 0; k < count; ++k)
            along_edges[count * i + k] = point(static_cast<int>(i), shares_along[k]);
    }
    uses_of_edge.resize(graph.edges.size());
    Box3 whole;
    for (std::size_t i = 0; i < graph.faces.size(); ++i) {
        const solid::GraphFace& face = graph.faces[i];
        std::vector<Point3>& along = places.emplace_back();
        along.reserve(count * face.uses.size());
        for (std::size_t k = 0; k < face.uses.size(); ++k) {
            const int index = face.uses[k].edge;
            const auto at = static_cast<std::size_t>(index);
            uses_of_edge[at].push_back({static_cast<int>(i), static_cast<int>(k)});
            if (!forms[at]) continue;
            for (std::size_t p = 0; p < count; ++p) along.push_back(along_edges[count * at + p]);
        }
        Box3& box = boxes.emplace_back();
        for (const Point3& place : along) box.extend(place);
        whole.extend(box);
    }
    size = whole.isEmpty() ? 0.0 : whole.diagonal().norm();
    const double recognition = std::min(most_recognition, recognition_share * size);
    if (!whole.isEmpty()) apex_ = whole.center();
    surfaces_.resize(graph.faces.size());
    for (std::size_t i = 0; i < graph.faces.size(); ++i) {
        const solid::GraphFace& face = graph.faces[i];
        sheets.push_back(sheet_of(static_cast<int>(i), recognition));
        const FaceMeasure measure =
            measure_face(face, graph.placement, sheets.back(), forms, apex_);
        areas.push_back(measure.area);
        surface_area += measure.area;
        cones_.push_back(measure.cone);
    }
    if (drawn) {
        number_as_drawn(*drawn);
        return;
    }
    for (const solid::GraphFace& face : graph.faces) numbers_.push_back(face.number);
    for (const solid::GraphEdge& edge : graph.edges) edge_numbers_.push_back(edge.number);
}

const solid::FaceSurface& SheetBody::surface(int index) const {
    auto& surface = surfaces_[static_cast<std::size_t>(index)];
    if (!surface) surface.emplace(face(index), graph.placement);
    return *surface;
}

SheetSurface SheetBody::sheet_of(int index, double recognition) const {
    const auto& along = places[static_cast<std::size_t>(index)];
    if (!along.empty()) {
        auto plain = closed_form_surface(face(index), graph.placement, along.front());
        if (plain && !plain->is_curved()) return *plain;
        if (plain)
            if (const auto middle = middle_of_turn(index, *plain)) {
                plain->middle = *middle;
                return *plain;
            }
    }
    return sheet_surface(surface(index), face(index).outward, recognition);
}

/// The middle between the ends of what turns less than half way round; nothing of what turns more,
/// and where edges are neither lines nor circles about the axis.
std::optional<Vector3> SheetBody::middle_of_turn(int index, const SheetSurface& surface) const {
    const auto across = [&](const Point3& place) {
        const Vector3 d = place - surface.origin;
        return Vector3(d - d.dot(surface.axis) * surface.axis);
    };
    Vector3 x = Vector3::Zero();
    double low = INFINITY, high = -INFINITY;
    const auto add = [&](const Point3& place) {
        const Vector3 out = across(place);
        if (x.isZero()) x = out.normalized();
        const double angle = std::atan2(surface.axis.cross(x).dot(out), x.dot(out));
        low = std::min(low, angle);
        high = std::max(high, angle);
    };
    for (const solid::EdgeUse& use : face(index).uses) {
        const auto& form = forms[static_cast<std::size_t>(use.edge)];
        if (!form || form->kind() == EdgeForm::Kind::other ||
            (form->kind() == EdgeForm::Kind::circle && form->last() - form->first() > 0.9 * pi))
            return std::nullopt;
        // The ends, and on a circle the middle.
        add(form->point(form->first()));
        add(form->point(form->last()));
        if (form->kind() == EdgeForm::Kind::circle)
            add(form->point(0.5 * (form->first() + form->last())));
    }
    if (!(high - low < 0.9 * pi)) return std::nullopt;
    const double middle = 0.5 * (low + high);
    return std::cos(middle) * x + std::sin(middle) * surface.axis.cross(x);
}

void SheetBody::number_as_drawn(const SheetBody& drawn) {
    const double near = recognition_share * size;
    for (std::size_t i = 0; i < face_count(); ++i) {
        int number = 0;
        for (std::size_t k = 0; k < drawn.face_count() && number == 0; ++k)
            if (is_same_surface(sheets[i], drawn.sheets[k]) &&
                boxes[i].exteriorDistance(drawn.boxes[k]) <= near)
                number = drawn.number(static_cast<int>(k));
        numbers_.push_back(number);
    }
    for (const auto& form : forms) {
        int number = 0;
        for (std::size_t k = 0; form && k < drawn.forms.size() && number == 0; ++k)
            if (drawn.forms[k] && drawn.forms[k]->distance(form->point(form->first())) <= near &&
                drawn.forms[k]->distance(form->point(form->last())) <= near &&
                drawn.forms[k]->distance(form->point(0.5 * (form->first() + form->last()))) <= near)
                number = drawn.edge_number(static_cast<int>(k));
        edge_numbers_.push_back(number);
    }
}

double SheetBody::volume() const {
    if (graph.placement.IsNegative()) return model::volume_of(shape_);
    double sum = 0.0;
    for (std::size_t i = 0; i < cones_.size(); ++i)
        sum += cones_[i] ? *cones_[i] : cone_of(graph.faces[i], graph.placement, apex_);
    return sum;
}

int SheetBody::beyond(int edge, int face) const {
    const auto& uses = uses_of_edge[static_cast<std::size_t>(edge)];
    if (uses.size() < 2) return -1;
    return uses[0].face == face ? uses[1].face : uses[0].face;
}

FaceUse SheetBody::use_of(int edge, int face) const {
    for (const FaceUse& use : uses_of_edge[static_cast<std::size_t>(edge)])
        if (use.face == face) return use;
    return {-1, -1};
}

double SheetBody::parameter(int index, double share) const {
    const solid::GraphEdge& along = edge(index);
    return along.first + share * (along.last - along.first);
}

Point3 SheetBody::point(int index, double share) const {
    return form(index).point(parameter(index, share));
}

Vector3 SheetBody::normal_at(const FaceUse& use, double t) const {
    const SheetSurface& plain = sheet(use.face);
    const int index = face(use.face).uses[static_cast<std::size_t>(use.use)].edge;
    if (plain.kind == SurfaceKind::plane) return plain.axis;
    if (plain.kind != SurfaceKind::other) return plain.outward_at(form(index).point(t));
    const solid::ParameterCurve& side =
        surface(use.face).boundary()[static_cast<std::size_t>(use.use)];
    if (side.curve.IsNull()) return Vector3::Zero();
    const gp_Pnt2d uv = side.curve->Value(t);
    return outward_normal(surface(use.face), face(use.face).outward, {uv.X(), uv.Y()});
}

Meeting SheetBody::meeting(int index, const FaceUse& first, const FaceUse& second) const {
    const auto is_smooth_at = [&](double share) {
        const double t = parameter(index, share);
        const Vector3 one = normal_at(first, t), other = normal_at(second, t);
        return one.dot(other) >= 0.0 && one.cross(other).norm() <= smooth_within;
    };
    const bool are_planes = sheet(first.face).kind == SurfaceKind::plane &&
                            sheet(second.face).kind == SurfaceKind::plane;
    if (is_smooth_at(0.5) && (are_planes || (is_smooth_at(0.1) && is_smooth_at(0.9))))
        return Meeting::smooth;
    const double t = parameter(index, 0.5);
    const Vector3 normal = normal_at(first, t);
    const solid::GraphFace& used_by = face(first.face);
    const bool along = used_by.uses[static_cast<std::size_t>(first.use)].along;
    Vector3 direction = form(index).derivative(t);
    // The material of the face lies to the left of its boundary, seen from outside.
    if (along != (used_by.outward > 0)) direction = -direction;
    const Vector3 into_face = normal.cross(direction);
    // The two sides of a slit: their normals look at each other, as no material is that thin.
    if (are_planes && normal.dot(normal_at(second, t)) < -1.0 + smooth_within * smooth_within)
        return Meeting::inward;
    return into_face.dot(normal_at(second, t)) > 0.0 ? Meeting::inward : Meeting::outward;
}

}  // namespace planform::unfolding
