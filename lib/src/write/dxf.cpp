#include <algorithm>
#include <cmath>

#include "curve/angles.hpp"
#include "planform/error.hpp"
#include "planform/write.hpp"
#include "write/dxf_document.hpp"
#include "write/dxf_groups.hpp"
#include "write/dxf_string.hpp"
#include "write/outline.hpp"

namespace planform {

namespace {

using write::DxfGroups;
using write::Handle;
using write::Role;
using write::Task;

constexpr double millimetres_an_inch = 25.4;  // exact by definition
/// A bulge is tan(sweep / 4): well-conditioned up to half a turn, infinite at a full one.
constexpr double largest_bulge_sweep = pi;
/// The least ratio of axes that readers take for an ellipse (from memory: ezdxf's auditor); a
/// flatter one is written as arcs.
constexpr double least_ratio = 1e-6;

double degrees(double radians) {
    const double turned = std::fmod(radians * 180.0 / pi, 360.0);
    return turned < 0.0 ? turned + 360.0 : turned;
}

/// Angle within [0, 2 pi).
double within_turn(double radians) {
    const double turned = std::fmod(radians, full_turn);
    return turned < 0.0 ? turned + full_turn : turned;
}

double bulge_of(const Curve& curve) {
    const auto* arc = std::get_if<Arc>(&curve);
    return arc == nullptr ? 0.0 : std::tan(arc->sweep / 4.0);
}

/// Turns contours into entities, in drawing units.
class EntityWriter {
  public:
    EntityWriter(const DxfOptions& options, const std::vector<write::Layer>& layers,
                 double tolerance)
        : layers_(layers),
          inches_(options.unit == DrawingUnit::inch),
          exact_(options.curves == CurveStyle::exact),
          tolerance_(tolerance) {}

    void add(const Task& task) {
        layer_ = write::dxf_layer_name(write::layer_of(layers_, task.role).name);
        name_ = write::dxf_string(task.name);
        depth_ = task.depth;
        if (const auto circle = write::circle_of(task)) {
            add_circle(*circle);
        } else if (exact_ && needs_entities(*task.curves)) {
            for (const Curve& curve : *task.curves) add_entities(curve);
        } else {
            add_polyline(*task.curves, task.is_closed());
        }
    }

    const DxfGroups& entities() const { return entities_; }
    const Box2& extents() const { return extents_; }
    Handle next() const { return next_; }

  private:
    static bool needs_entities(const std::vector<Curve>& curves) {
        return std::any_of(curves.begin(), curves.end(), [](const Curve& curve) {
            return std::holds_alternative<EllipticalArc>(curve) ||
                   std::holds_alternative<Spline>(curve);
        });
    }

    /// Drawing units from millimetres; a division, so that 25.4 mm are exactly one inch.
    double length_of(double millimetres) const {
        return inches_ ? millimetres / millimetres_an_inch : millimetres;
    }
    Point2 place_of(const Point2& point) const {
        return {length_of(point.x()), length_of(point.y())};
    }
    void widen(const Curve& curve) {
        const Box2 box = bounds(curve);
        extents_.extend(place_of(box.min()));
        extents_.extend(place_of(box.max()));
    }

    void start(std::string_view type, std::string_view subclass) {
        entities_.add(0, type);
        entities_.add(5, next_);
        ++next_.number;
        entities_.add(330, write::model_space);
        entities_.add(100, "AcDbEntity");
        entities_.add(8, layer_);
        entities_.add(100, subclass);
    }

    void add_circle(const Arc& circle) {
        widen(circle);
        start("CIRCLE", "AcDbCircle");
        entities_.add_point(10, place_of(circle.center));
        entities_.add(40, length_of(circle.radius));
        finish();
    }

    void add_polyline(const std::vector<Curve>& curves, bool is_closed) {
        std::vector<Curve> pieces;
        for (const Curve& curve : curves) {
            for (const Curve& piece : write::lines_and_arcs(curve, tolerance_)) {
                if (write::is_degenerate(piece)) continue;
                widen(piece);
                const auto* arc = std::get_if<Arc>(&piece);
                if (arc == nullptr) {
                    pieces.push_back(piece);
                } else {
                    write::append_pieces(pieces, *arc, largest_bulge_sweep);
                }
            }
        }
        start("LWPOLYLINE", "AcDbPolyline");
        entities_.add(90, pieces.size() + (is_closed ? 0 : 1));
        entities_.add(70, is_closed ? 1 : 0);
        entities_.add(43, 0.0);
        for (const Curve& piece : pieces) {
            entities_.add_flat_point(10, place_of(start_point(piece)));
            if (const double bulge = bulge_of(piece); bulge != 0.0) entities_.add(42, bulge);
        }
        if (!is_closed && !pieces.empty())
            entities_.add_flat_point(10, place_of(end_point(pieces.back())));
        finish();
    }

    /// Extended data: the name of the profile or mark, if it has one; the depth of a mark as a
    /// distance (group 1041, which goes with the drawing's unit).
    void finish() {
        if (name_.empty() && depth_ == 0.0) return;
        entities_.add(1001, write::name_application);
        if (!name_.empty()) entities_.add(1000, name_);
        if (depth_ != 0.0) entities_.add(1041, length_of(depth_));
    }

    void add_entities(const Curve& curve) {
        if (write::is_degenerate(curve)) return;
        const auto* ellipse = std::get_if<EllipticalArc>(&curve);
        if (ellipse != nullptr && ellipse->ratio < least_ratio) {
            for (const Curve& piece : fit_arcs(curve, tolerance_)) add_entities(piece);
            return;
        }
        widen(curve);
        std::visit([this](const auto& kind) { add_entity(kind); }, curve);
        finish();
    }

    void add_entity(const Line& line) {
        start("LINE", "AcDbLine");
        entities_.add_point(10, place_of(line.start));
        entities_.add_point(11, place_of(line.end));
    }

    /// The format knows arcs that run counter-clockwise only: others are written from their end.
    void add_entity(const Arc& arc) {
        const double first = arc.sweep > 0.0 ? arc.start_angle : arc.start_angle + arc.sweep;
        start("ARC", "AcDbCircle");
        entities_.add_point(10, place_of(arc.center));
        entities_.add(40, length_of(arc.radius));
        entities_.add(100, "AcDbArc");
        entities_.add(50, degrees(first));
        entities_.add(51, degrees(first + std::abs(arc.sweep)));
    }

    void add_entity(const EllipticalArc& arc) {
        const double first = arc.sweep > 0.0 ? arc.start_angle : arc.start_angle + arc.sweep;
        const bool full = std::abs(arc.sweep) >= full_turn * (1.0 - 1e-15);
        start("ELLIPSE", "AcDbEllipse");
        entities_.add_point(10, place_of(arc.center));
        entities_.add_point(11, place_of(arc.major));
        entities_.add(40, arc.ratio);
        entities_.add(41, full ? 0.0 : within_turn(first));
        entities_.add(42, full ? full_turn : within_turn(first + std::abs(arc.sweep)));
    }

    void add_entity(const Spline& spline) {
        constexpr int planar = 8, rational = 4;
        start("SPLINE", "AcDbSpline");
        entities_.add(70, spline.weights.empty() ? planar : planar | rational);
        entities_.add(71, spline.degree);
        entities_.add(72, spline.knots.size());
        entities_.add(73, spline.poles.size());
        entities_.add(74, 0);
        for (const double knot : spline.knots) entities_.add(40, knot);
        for (const double weight : spline.weights) entities_.add(41, weight);
        for (const Point2& pole : spline.poles) entities_.add_point(10, place_of(pole));
    }

    const std::vector<write::Layer>& layers_;
    bool inches_;
    bool exact_;
    double tolerance_;
    std::string layer_;
    std::string name_;  ///< as the format can hold it
    double depth_ = 0.0;
    DxfGroups entities_;
    Box2 extents_;
    Handle next_ = write::first_entity;
};

double tolerance_of(const ProfileSet& profiles, const DxfOptions& options) {
    if (!std::isfinite(options.tolerance) || options.tolerance < 0.0) {
        throw GeometryError(
            ErrorKind::invalid_argument,
            "the tolerance of a drawing is a positive finite number of millimetres, "
            "or 0 for that of the profile set");
    }
    const double extent = profiles.empty() ? 0.0 : profiles.bounds().diagonal().norm();
    return options.tolerance > 0.0 ? fit_tolerance(options.tolerance, extent)
                                   : limited_tolerance(profiles.tolerance(), extent);
}

/// The notes as comments before the first section, which readers skip.
std::string comments_of(const ProfileSet& profiles) {
    constexpr int comment = 999;
    DxfGroups groups;
    for (const std::string& note : profiles.notes()) groups.add(comment, write::dxf_string(note));
    return groups.text();
}

}  // namespace

std::string dxf_text(const ProfileSet& profiles, const DxfOptions& options) {
    const std::vector<Task> tasks = write::tasks_of(profiles);
    const std::vector<write::Layer> layers =
        write::layers_of(options.layers, write::own_layers, write::has_bends(tasks));
    EntityWriter writer(options, layers, tolerance_of(profiles, options));
    for (const Task& task : tasks) writer.add(task);
    return comments_of(profiles) + write::dxf_document(writer.entities(), writer.extents(),
                                                       options.unit, writer.next(), layers);
}

void write_dxf(const ProfileSet& profiles, const std::filesystem::path& path,
               const DxfOptions& options) {
    write_whole_file(path, dxf_text(profiles, options));
}

}  // namespace planform
