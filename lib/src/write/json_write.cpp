#include <algorithm>
#include <string>

#include "planform/write.hpp"
#include "write/json_cursor.hpp"
#include "write/json_words.hpp"
#include "write/number.hpp"
#include "write/utf8.hpp"

namespace planform {

namespace {

/// Builds the text; one line a curve, so that a person can read and compare it.
class JsonText {
  public:
    void open(char bracket) {
        separate();
        text_ += bracket;
        ++depth_;
        first_ = true;
    }
    void close(char bracket) {
        --depth_;
        if (!first_) new_line();
        text_ += bracket;
        first_ = false;
    }
    void key(std::string_view name) {
        separate();
        string(name);
        text_ += ": ";
        after_key_ = true;
    }
    /// A value that stands on one line.
    void value(std::string_view finished) {
        separate();
        text_ += finished;
    }
    void string_value(std::string_view content) {
        separate();
        string(content);
    }
    std::string finished() && { return std::move(text_) + "\n"; }

  private:
    void separate() {
        if (after_key_) {
            after_key_ = false;
            return;
        }
        if (!first_) text_ += ',';
        if (depth_ > 0) new_line();
        first_ = false;
    }
    void new_line() {
        text_ += '\n';
        text_.append(static_cast<std::size_t>(depth_), ' ');
    }
    void string(std::string_view content) {
        constexpr std::string_view hexadecimal = "0123456789abcdef";
        text_ += '"';
        for (const char letter : write::valid_utf8(content)) {
            const auto byte = static_cast<unsigned char>(letter);
            if (letter == '"' || letter == '\\') {
                text_ += '\\';
                text_ += letter;
            } else if (byte < 0x20 || byte == 0x7F) {
                text_ += "\\u00";
                text_ += hexadecimal[byte >> 4];
                text_ += hexadecimal[byte & 15];
            } else {
                text_ += letter;
            }
        }
        text_ += '"';
    }

    std::string text_;
    int depth_ = 0;
    bool first_ = true;
    bool after_key_ = false;
};

std::string text_of(double number) {
    std::string text;
    write::append_shortest(text, number);
    return text;
}

template <class Numbers>
std::string list_of(const Numbers& numbers) {
    std::string text = "[";
    for (const double number : numbers) {
        if (text.size() > 1) text += ", ";
        write::append_shortest(text, number);
    }
    return text + "]";
}

template <class ArcKind>
std::string angles(const ArcKind& arc) {
    return ", \"start_angle\": " + text_of(arc.start_angle) + ", \"sweep\": " + text_of(arc.sweep);
}

std::string text_of(const Curve& curve) {
    struct Visitor {
        std::string operator()(const Line& line) const {
            return "{\"type\": \"line\", \"start\": " + list_of(line.start) +
                   ", \"end\": " + list_of(line.end) + "}";
        }
        std::string operator()(const Arc& arc) const {
            return "{\"type\": \"arc\", \"center\": " + list_of(arc.center) +
                   ", \"radius\": " + text_of(arc.radius) + angles(arc) + "}";
        }
        std::string operator()(const EllipticalArc& arc) const {
            return "{\"type\": \"elliptical_arc\", \"center\": " + list_of(arc.center) +
                   ", \"major\": " + list_of(arc.major) + ", \"ratio\": " + text_of(arc.ratio) +
                   angles(arc) + "}";
        }
        std::string operator()(const Spline& spline) const {
            std::string poles;
            for (const Point2& pole : spline.poles) {
                poles += (poles.empty() ? "" : ", ") + list_of(pole);
            }
            std::string text =
                "{\"type\": \"spline\", \"degree\": " + std::to_string(spline.degree) +
                ", \"knots\": " + list_of(spline.knots) + ", \"poles\": [" + poles + "]";
            if (!spline.weights.empty()) text += ", \"weights\": " + list_of(spline.weights);
            return text + "}";
        }
    };
    return std::visit(Visitor{}, curve);
}

void add_contour(JsonText& json, const Contour& contour) {
    json.open('{');
    json.key("curves");
    json.open('[');
    for (const Curve& curve : contour.curves()) json.value(text_of(curve));
    json.close(']');
    if (!contour.provenance().empty()) {
        json.key("provenance");
        json.open('[');
        for (const Provenance& provenance : contour.provenance()) {
            json.value("[\"" + std::string(write::word_of(provenance.kind)) + "\", " +
                       std::to_string(provenance.solid) + ", " + std::to_string(provenance.entity) +
                       "]");
        }
        json.close(']');
    }
    json.close('}');
}

void add_profile(JsonText& json, const Profile& profile) {
    json.open('{');
    json.key("name");
    json.string_value(profile.name());
    json.key("parent");
    json.value(profile.is_island() ? std::to_string(profile.parent()) : "null");
    json.key("outer");
    add_contour(json, profile.outer());
    json.key("holes");
    json.open('[');
    for (const Contour& hole : profile.holes()) add_contour(json, hole);
    json.close(']');
    json.close('}');
}

void add_mark(JsonText& json, const Mark& mark) {
    json.open('{');
    json.key("name");
    json.string_value(mark.name());
    if (mark.depth() != 0.0) {
        json.key("depth");
        json.value(text_of(mark.depth()));
    }
    if (mark.is_closed()) {
        json.key("contour");
        add_contour(json, mark.contour());
    } else {
        json.key("curves");
        json.open('[');
        for (const Curve& curve : mark.curves()) json.value(text_of(curve));
        json.close(']');
    }
    json.close('}');
}

void add_allowance(JsonText& json, const Allowance& allowance) {
    json.key("allowance");
    json.open('{');
    json.key("kerf");
    json.value(text_of(allowance.kerf));
    json.key("fit");
    json.value(text_of(allowance.fit));
    json.key("relief");
    json.value(text_of(allowance.relief));
    json.key("relief_style");
    json.string_value(word_for(allowance.relief_style));
    json.key("fits");
    json.open('[');
    for (const CurveFit& fit : allowance.fits) {
        std::string entry;
        entry += '[';
        for (const int number : {fit.at.profile, fit.at.contour, fit.at.curve}) {
            entry += std::to_string(number);
            entry += ", ";
        }
        write::append_shortest(entry, fit.distance);
        entry += ']';
        json.value(entry);
    }
    json.close(']');
    json.close('}');
}

void add_head(JsonText& json, const ProfileSet& profiles, int version) {
    json.key(write::version_key);
    json.value(std::to_string(version));
    json.key("unit");
    json.string_value(write::schema_unit);
    json.key("name");
    json.string_value(profiles.name());
    json.key("tolerance");
    json.value(text_of(profiles.tolerance()));
    const Datum& datum = profiles.datum();
    json.key("datum");
    json.value("{\"origin\": " + list_of(datum.origin()) +
               ", \"normal\": " + list_of(datum.normal()) + ", \"x\": " + list_of(datum.x()) + "}");
    json.key("notes");
    json.open('[');
    for (const std::string& note : profiles.notes()) json.string_value(note);
    json.close(']');
    if (!profiles.data().empty()) {
        json.key("data");
        json.value(write::data_text(profiles.data()));
    }
}

/// The oldest version whose readers understand everything.
int version_of(const ProfileSet& profiles, const Allowance* allowance) {
    const auto& marks = profiles.marks();
    const bool has_new_marks = std::any_of(marks.begin(), marks.end(), [](const Mark& mark) {
        return !mark.is_closed() || mark.depth() != 0.0;
    });
    if (!profiles.data().empty()) return write::data_version;
    if (has_new_marks) return write::marks_version;
    return allowance ? write::allowance_version : write::schema_version;
}

std::string whole_text(const ProfileSet& profiles, const Allowance* allowance) {
    JsonText json;
    json.open('{');
    add_head(json, profiles, version_of(profiles, allowance));
    if (allowance) add_allowance(json, *allowance);
    json.key("profiles");
    json.open('[');
    for (const Profile& profile : profiles.profiles()) add_profile(json, profile);
    json.close(']');
    json.key("marks");
    json.open('[');
    for (const Mark& mark : profiles.marks()) add_mark(json, mark);
    json.close(']');
    json.close('}');
    return std::move(json).finished();
}

}  // namespace

std::string json_text(const ProfileSet& profiles) { return whole_text(profiles, nullptr); }

std::string json_text(const ProfileSet& profiles, const Allowance& allowance) {
    return whole_text(profiles, &allowance);
}

void write_json(const ProfileSet& profiles, const std::filesystem::path& path) {
    write_whole_file(path, json_text(profiles));
}

void write_json(const ProfileSet& profiles, const Allowance& allowance,
                const std::filesystem::path& path) {
    write_whole_file(path, json_text(profiles, allowance));
}

}  // namespace planform
