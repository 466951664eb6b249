#include <algorithm>
#include <array>
#include <cmath>

#include "planform/error.hpp"
#include "planform/write.hpp"
#include "write/number.hpp"
#include "write/outline.hpp"
#include "write/utf8.hpp"

namespace planform {

namespace {

using write::Role;
using write::Task;

/// The centre of an SVG arc follows from its ends: well-conditioned while they don't lie opposite.
constexpr double largest_arc_sweep = 2.0 * pi / 3.0;

/// It follows after the plane is stretched by 1 / ratio across the ellipse, and so is the rounding
/// of the ends: 2e-16 of the coordinates, 2e-9 mm at 1 m with this ratio. A flatter arc is written
/// as lines and circular arcs.
constexpr double least_ratio = 1e-4;

/// A group of the drawing. Colours: our own choice, legible on white.
struct Group {
    Role role;
    std::string_view id;
    std::string_view color;
};
constexpr std::array<Group, 4> groups{{{Role::outer, "cut-outer", "#1f3a93"},
                                       {Role::inner, "cut-inner", "#c2571a"},
                                       {Role::mark, "mark", "#2e7d32"},
                                       {Role::bend, "bend", "#7b2d8b"}}};

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
        if (arc.ratio < least_ratio) {
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

void append_group(std::string& text, const Group& group, const std::vector<Task>& tasks,
                  double tolerance) {
    if (group.role == Role::bend && std::none_of(tasks.begin(), tasks.end(), [](const Task& task) {
            return task.role == Role::bend;
        }))
        return;
    text += "  <g id=\"" + std::string(group.id) + "\" stroke=\"" + std::string(group.color) + "\"";
    text += ">\n";
    for (const Task& task : tasks) {
        if (task.role == group.role) append_shape(text, task, tolerance);
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
    std::string text;  // without an XML declaration, so that it can stand inside a page
    append_root(text, profiles, options.stroke_width);
    if (!profiles.name().empty()) text += "  <title>" + escaped(profiles.name()) + "</title>\n";
    append_notes(text, profiles.notes());
    const std::vector<Task> tasks = write::tasks_of(profiles);
    for (const Group& group : groups) append_group(text, group, tasks, profiles.tolerance());
    text += "</svg>\n";
    return text;
}

void write_svg(const ProfileSet& profiles, const std::filesystem::path& path,
               const SvgOptions& options) {
    write_whole_file(path, svg_text(profiles, options));
}

}  // namespace planform
