#include <algorithm>
#include <array>
#include <cmath>

#include "curve/angles.hpp"
#include "planform/error.hpp"
#include "planform/write.hpp"
#include "write/layers.hpp"
#include "write/number.hpp"
#include "write/outline.hpp"
#include "write/utf8.hpp"

namespace planform {

namespace {

using write::Task;

/// The centre of an SVG arc follows from its ends: well-conditioned while they don't lie opposite.
constexpr double largest_arc_sweep = full_turn / 3.0;

/// It follows after the plane is stretched by 1 / ratio across the ellipse, and so is the rounding
/// of the ends: 2e-16 of the coordinates, 2e-9 mm at 1 m with this ratio. A flatter arc is written
/// as lines and circular arcs.
constexpr double least_axis_ratio = 1e-4;

/// Our own groups. Colours: our own choice, legible on white.
constexpr std::array<write::OwnLayer, 4> own_groups{{{"cut-outer", 5, 0x1F3A93},
                                                     {"cut-inner", 30, 0xC2571A},
                                                     {"mark", 94, 0x2E7D32},
                                                     {"bend", 174, 0x7B2D8B}}};

/// A character that XML 1.0 forbids even escaped (section 2.2, production Char).
bool is_forbidden(std::string_view character) {
    const unsigned char first = static_cast<unsigned char>(character.front());
    return (first < 0x20 && first != '\t' && first != '\n' && first != '\r') ||
           character == "\xEF\xBF\xBE" || character == "\xEF\xBF\xBF";
}

std::string escaped(std::string_view name) {
    const std::string text = write::valid_utf8(name);
    std::string result;
    for (std::size_t position = 0; position < text.size();) {
        const std::size_t size = write::character_size(text, position);
        const std::string_view character = std::string_view(text).substr(position, size);
        position += size;
        if (is_forbidden(character)) {
            result += "\xEF\xBF\xBD";
        } else if (character == "&") {
            result += "&amp;";
        } else if (character == "<") {
            result += "&lt;";
        } else if (character == ">") {
            result += "&gt;";
        } else if (character == "\"") {
            result += "&quot;";
        } else if (character == "'") {
            result += "&#39;";
        } else {
            result += character;
        }
    }
    return result;
}

void append_attribute(std::string& text, std::string_view name, double number) {
    text += ' ';
    text += name;
    text += "=\"";
    write::append_plain(text, number);
    text += '"';
}

/// y runs downwards in SVG, so it is negated. (A transform would do as well, but some controllers
/// read past transforms.)
void append_point(std::string& text, const Point2& point) {
    text += ' ';
    write::append_plain(text, point.x());
    text += ' ';
    write::append_plain(text, -point.y());
}

/// The data of one path.
class PathData {
  public:
    PathData(const Task& task, double tolerance) : tolerance_(tolerance) {
        text_ = "M";
        append_point(text_, start_point(task.curves->front()));
        for (const Curve& curve : *task.curves) {
            std::visit([this](const auto& kind) { add(kind); }, curve);
        }
        if (task.is_closed()) text_ += " Z";
    }
    const std::string& text() const { return text_; }

  private:
    void add(const Line& line) {
        if (line.start == line.end) return;
        text_ += " L";
        append_point(text_, line.end);
    }

    void add(const Arc& arc) { add_arcs(arc, arc.radius, arc.radius, 0.0); }

    void add(const EllipticalArc& arc) {
        if (arc.ratio < least_axis_ratio) {
            add_fitted(arc);
            return;
        }
        const double major = arc.major.norm();
        // The picture is mirrored, and so is the turn of the axes.
        const double turn = -std::atan2(arc.major.y(), arc.major.x()) * 180.0 / pi;
        add_arcs(arc, major, arc.ratio * major, turn);
    }

    template <class ArcKind>
    void add_arcs(const ArcKind& arc, double radius_x, double radius_y, double turn) {
        std::vector<Curve> pieces;
        write::append_pieces(pieces, arc, largest_arc_sweep);
        for (const Curve& piece : pieces) {
            text_ += " A ";
            write::append_plain(text_, radius_x);
            text_ += ' ';
            write::append_plain(text_, radius_y);
            text_ += ' ';
            write::append_plain(text_, turn);
            text_ += arc.sweep > 0.0 ? " 0 0" : " 0 1";
            append_point(text_, end_point(piece));
        }
    }

    void add_fitted(const Curve& curve) {
        for (const Curve& piece : fit_arcs(curve, tolerance_)) {
            if (const auto* line = std::get_if<Line>(&piece)) {
                add(*line);
            } else {
                add(std::get<Arc>(piece));
            }
        }
    }

    void add(const Spline& spline) {
        if (!spline.weights.empty() || spline.degree > 3) {
            add_fitted(spline);
            return;
        }
        for (std::size_t i = 0; i + 1 < spline.knots.size(); ++i) {
            if (spline.knots[i] < spline.knots[i + 1]) {
                add_bezier(std::get<Spline>(trimmed(spline, spline.knots[i], spline.knots[i + 1])));
            }
        }
    }

    /// One polynomial piece: the poles between two knots are those of its Bezier form.
    void add_bezier(const Spline& piece) {
        constexpr std::array<std::string_view, 4> commands = {"", " L", " Q", " C"};
        text_ += commands[static_cast<std::size_t>(piece.degree)];
        for (std::size_t i = 1; i < piece.poles.size(); ++i) append_point(text_, piece.poles[i]);
    }

    double tolerance_;
    std::string text_;
};

void append_shape(std::string& text, const Task& task, double tolerance) {
    std::string_view element = "path";
    if (const auto circle = write::circle_of(task)) {
        element = "circle";
        text += "    <circle";
        append_attribute(text, "cx", circle->center.x());
        append_attribute(text, "cy", -circle->center.y());
        append_attribute(text, "r", circle->radius);
    } else {
        text += "    <path d=\"" + PathData(task, tolerance).text() + "\"";
    }
    if (task.depth != 0.0) append_attribute(text, "data-depth", task.depth);
    if (task.name.empty()) {
        text += "/>\n";
    } else {
        text += "><title>" + escaped(task.name) + "</title></" + std::string(element) + ">\n";
    }
}

/// The name as an id: what can't stand in one becomes '_' (XML 1.0, production Name, without those
/// characters of it that are neither letters nor digits of ASCII nor beyond it).
std::string id_of(std::string_view name) {
    std::string id = write::valid_utf8(name);
    for (char& byte : id) {
        const bool plain = (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z') ||
                           (byte >= '0' && byte <= '9') || byte == '-' || byte == '_' ||
                           byte == '.' || static_cast<unsigned char>(byte) >= 0x80;
        if (!plain) byte = '_';
    }
    const bool starts_well = (id[0] >= 'a' && id[0] <= 'z') || (id[0] >= 'A' && id[0] <= 'Z') ||
                             id[0] == '_' || static_cast<unsigned char>(id[0]) >= 0x80;
    return starts_well ? id : "_" + id;
}

std::string color_text(std::uint32_t rgb) {
    constexpr std::string_view digits = "0123456789abcdef";
    std::string text = "#";
    for (int shift = 20; shift >= 0; shift -= 4)
        text += digits[(rgb >> static_cast<unsigned>(shift)) & 0xFU];
    return text;
}

void append_group(std::string& text, const write::Layer& group, const std::vector<Task>& tasks,
                  double tolerance) {
    text += "  <g id=\"" + id_of(group.name) + "\" stroke=\"" + color_text(group.rgb) + "\"";
    if (group.line_width) append_attribute(text, "stroke-width", *group.line_width);
    text += ">\n";
    for (const Task& task : tasks) {
        if (group.holds(task.role)) append_shape(text, task, tolerance);
    }
    text += "  </g>\n";
}

/// The root element; a set without outlines has a page of 1 mm, since an empty one is not drawn.
void append_root(std::string& text, const ProfileSet& profiles, double stroke_width) {
    const Box2 box = profiles.empty() ? Box2(Point2::Zero(), Point2::Ones()) : profiles.bounds();
    const Vector2 size = box.sizes();
    text += "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"";
    write::append_plain(text, size.x());
    text += "mm\" height=\"";
    write::append_plain(text, size.y());
    text += "mm\" viewBox=\"";
    write::append_plain(text, box.min().x());
    text += ' ';
    write::append_plain(text, -box.max().y());
    text += ' ';
    write::append_plain(text, size.x());
    text += ' ';
    write::append_plain(text, size.y());
    text += "\" overflow=\"visible\" fill=\"none\"";
    append_attribute(text, "stroke-width", stroke_width);
    text += ">\n";
}

void append_notes(std::string& text, const std::vector<std::string>& notes) {
    if (notes.empty()) return;
    text += "  <desc>";
    for (const std::string& note : notes) {
        if (&note != &notes.front()) text += '\n';
        text += escaped(note);
    }
    text += "</desc>\n";
}

}  // namespace

std::string svg_text(const ProfileSet& profiles, const SvgOptions& options) {
    if (!std::isfinite(options.stroke_width) || options.stroke_width <= 0.0) {
        throw GeometryError(ErrorKind::invalid_argument,
                            "the stroke width is a positive finite number of millimetres");
    }
    const std::vector<Task> tasks = write::tasks_of(profiles);
    const std::vector<write::Layer> groups =
        write::layers_of(options.layers, own_groups, write::has_bends(tasks));
    std::string text;  // without an XML declaration, so that it can stand inside a page
    append_root(text, profiles, options.stroke_width);
    if (!profiles.name().empty()) text += "  <title>" + escaped(profiles.name()) + "</title>\n";
    append_notes(text, profiles.notes());
    for (const write::Layer& group : groups) append_group(text, group, tasks, profiles.tolerance());
    text += "</svg>\n";
    return text;
}

void write_svg(const ProfileSet& profiles, const std::filesystem::path& path,
               const SvgOptions& options) {
    write_whole_file(path, svg_text(profiles, options));
}

}  // namespace planform
