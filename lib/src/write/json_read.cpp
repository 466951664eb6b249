#include <cerrno>
#include <fstream>
#include <iterator>
#include <system_error>

#include "planform/error.hpp"
#include "planform/write.hpp"
#include "write/json_cursor.hpp"
#include "write/json_words.hpp"

namespace planform {

namespace {

using write::JsonCursor;

/// Runs a constructor that checks its arguments; what it refuses is reported with the place.
template <class Make>
auto checked(const JsonCursor& place, Make make) {
    try {
        return make();
    } catch (const GeometryError& error) {
        if (error.kind() == ErrorKind::json_invalid) throw;
        place.refuse(error.what());
    }
}

Line read_line(const JsonCursor& json) {
    json.require_keys({"type", "start", "end"});
    return {json.at("start").point2(), json.at("end").point2()};
}

Arc read_arc(const JsonCursor& json) {
    json.require_keys({"type", "center", "radius", "start_angle", "sweep"});
    return {json.at("center").point2(), json.at("radius").number(), json.at("start_angle").number(),
            json.at("sweep").number()};
}

EllipticalArc read_elliptical_arc(const JsonCursor& json) {
    json.require_keys({"type", "center", "major", "ratio", "start_angle", "sweep"});
    return {json.at("center").point2(), json.at("major").point2(), json.at("ratio").number(),
            json.at("start_angle").number(), json.at("sweep").number()};
}

Spline read_spline(const JsonCursor& json) {
    json.require_keys({"type", "degree", "knots", "poles"}, {"weights"});
    Spline spline;
    spline.degree = json.at("degree").integer();
    spline.knots = json.at("knots").numbers();
    for (const JsonCursor& pole : json.at("poles").elements()) {
        spline.poles.push_back(pole.point2());
    }
    if (json.has("weights")) {
        spline.weights = json.at("weights").numbers();
        if (spline.weights.empty()) json.at("weights").refuse("expected one weight a pole");
    }
    return spline;
}

Curve read_curve(const JsonCursor& json) {
    json.require_keys({"type"}, {"start", "end", "center", "radius", "start_angle", "sweep",
                                 "major", "ratio", "degree", "knots", "poles", "weights"});
    const std::string type = json.at("type").string();
    Curve curve;
    if (type == "line") {
        curve = read_line(json);
    } else if (type == "arc") {
        curve = read_arc(json);
    } else if (type == "elliptical_arc") {
        curve = read_elliptical_arc(json);
    } else if (type == "spline") {
        curve = read_spline(json);
    } else {
        json.at("type").refuse("expected \"line\", \"arc\", \"elliptical_arc\" or \"spline\"");
    }
    checked(json, [&] {
        check_curve(curve);
        return true;
    });
    return curve;
}

Provenance read_provenance(const JsonCursor& json) {
    const std::vector<JsonCursor> parts = json.elements();
    if (parts.size() != 3) json.refuse("expected [kind, solid, entity]");
    const std::string word = parts[0].string();
    for (const auto& [candidate, kind] : write::provenance_words) {
        if (word == candidate) return {kind, parts[1].integer(), parts[2].integer()};
    }
    parts[0].refuse("expected \"unknown\", \"edge\", \"fold\" or \"section\"");
}

Contour read_contour(const JsonCursor& json, Validate validate) {
    json.require_keys({"curves"}, {"provenance"});
    std::vector<Curve> curves;
    for (const JsonCursor& curve : json.at("curves").elements()) {
        curves.push_back(read_curve(curve));
    }
    std::vector<Provenance> provenance;
    if (json.has("provenance")) {
        for (const JsonCursor& entry : json.at("provenance").elements()) {
            provenance.push_back(read_provenance(entry));
        }
    }
    return checked(json,
                   [&] { return Contour(std::move(curves), std::move(provenance), validate); });
}

int read_parent(const JsonCursor& json, std::size_t own_index, std::size_t profile_count) {
    if (json.is_null()) return -1;
    const int parent = json.integer();
    if (parent < 0 || static_cast<std::size_t>(parent) >= profile_count ||
        static_cast<std::size_t>(parent) == own_index) {
        json.refuse("expected null or the index of another profile");
    }
    return parent;
}

std::vector<Profile> read_profiles(const JsonCursor& json, Validate validate) {
    std::vector<Profile> profiles;
    const std::vector<JsonCursor> elements = json.elements();
    for (const JsonCursor& element : elements) {
        element.require_keys({"name", "parent", "outer", "holes"});
        std::vector<Contour> holes;
        for (const JsonCursor& hole : element.at("holes").elements()) {
            holes.push_back(read_contour(hole, validate));
        }
        const int parent = read_parent(element.at("parent"), profiles.size(), elements.size());
        Contour outer = read_contour(element.at("outer"), validate);
        const std::string name = element.at("name").string();
        profiles.push_back(checked(element, [&] {
            return Profile(std::move(outer), std::move(holes), name, parent, validate);
        }));
    }
    return profiles;
}

std::vector<Mark> read_marks(const JsonCursor& json, Validate validate) {
    std::vector<Mark> marks;
    for (const JsonCursor& element : json.elements()) {
        element.require_keys({"name"}, {"contour", "curves", "depth"});
        if (element.has("contour") == element.has("curves"))
            element.refuse("expected either \"contour\" or \"curves\"");
        const std::string name = element.at("name").string();
        const double depth = element.has("depth") ? element.at("depth").number() : 0.0;
        if (element.has("contour")) {
            marks.emplace_back(read_contour(element.at("contour"), validate), name, depth);
            continue;
        }
        std::vector<Curve> curves;
        for (const JsonCursor& curve : element.at("curves").elements())
            curves.push_back(read_curve(curve));
        marks.push_back(
            checked(element, [&] { return Mark::open(std::move(curves), name, depth); }));
    }
    return marks;
}

Datum read_datum(const JsonCursor& json) {
    json.require_keys({"origin", "normal", "x"});
    return checked(json, [&] {
        return Datum(json.at("origin").point3(), json.at("normal").point3(), json.at("x").point3());
    });
}

void read_head(const JsonCursor& json) {
    json.require_keys(
        {write::version_key, "unit", "name", "tolerance", "datum", "notes", "profiles", "marks"},
        {"allowance", "data"});
    const JsonCursor version = json.at(write::version_key);
    const int number = version.integer();
    if (number != write::schema_version && number != write::allowance_version &&
        number != write::marks_version && number != write::data_version) {
        version.refuse("this version of the schema is unknown; known: " +
                       std::to_string(write::schema_version) + ", " +
                       std::to_string(write::allowance_version) + ", " +
                       std::to_string(write::marks_version) + ", " +
                       std::to_string(write::data_version));
    }
    if (number < write::marks_version &&
        json.has("allowance") != (number == write::allowance_version)) {
        version.refuse("an allowance belongs to version " +
                       std::to_string(write::allowance_version) + " and later ones only");
    }
    if (json.has("data") && number < write::data_version) {
        version.refuse("data belong to version " + std::to_string(write::data_version) +
                       " and later ones only");
    }
    if (json.at("unit").string() != write::schema_unit) json.at("unit").refuse("expected \"mm\"");
}

CurveFit read_fit(const JsonCursor& json) {
    const std::vector<JsonCursor> parts = json.elements();
    if (parts.size() != 4) json.refuse("expected [profile, contour, curve, distance]");
    return {{parts[0].integer(), parts[1].integer(), parts[2].integer()}, parts[3].number()};
}

Allowance read_allowance(const JsonCursor& json) {
    json.require_keys({"kerf", "fit", "relief", "relief_style", "fits"});
    Allowance allowance;
    allowance.kerf = json.at("kerf").number();
    if (!(allowance.kerf >= 0.0)) json.at("kerf").refuse("expected a number of 0 or more");
    allowance.fit = json.at("fit").number();
    allowance.relief = json.at("relief").number();
    if (!(allowance.relief >= 0.0)) json.at("relief").refuse("expected a number of 0 or more");
    const std::string style = json.at("relief_style").string();
    if (style == word_for(ReliefStyle::side)) {
        allowance.relief_style = ReliefStyle::side;
    } else if (style != word_for(ReliefStyle::corner)) {
        json.at("relief_style").refuse("expected \"corner\" or \"side\"");
    }
    for (const JsonCursor& fit : json.at("fits").elements())
        allowance.fits.push_back(read_fit(fit));
    return allowance;
}

std::vector<std::string> read_notes(const JsonCursor& json) {
    std::vector<std::string> notes;
    for (const JsonCursor& note : json.elements()) notes.push_back(note.string());
    return notes;
}

[[noreturn]] void refuse_file(ErrorKind kind, const std::filesystem::path& path,
                              const std::string& cause) {
    throw LoadError(kind, "can't read '" + path.string() + "': " + cause, path.string());
}

std::string content_of(const std::filesystem::path& path) {
    std::error_code status_error;
    const auto status = std::filesystem::status(path, status_error);
    if (status.type() == std::filesystem::file_type::not_found) {
        refuse_file(ErrorKind::file_missing, path, "the file does not exist");
    }
    if (std::filesystem::is_directory(status)) {
        refuse_file(ErrorKind::file_unreadable, path, "it is a folder");
    }
    errno = 0;
    std::ifstream stream(path, std::ios::binary);
    if (!stream) {
        refuse_file(ErrorKind::file_unreadable, path, std::generic_category().message(errno));
    }
    std::string content{std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
    if (stream.bad()) refuse_file(ErrorKind::file_unreadable, path, "reading failed");
    if (content.empty()) refuse_file(ErrorKind::file_empty, path, "the file is empty");
    return content;
}

/// Reads; what is refused is reported with the path.
template <class Read>
auto with_path(const std::filesystem::path& path, Read read) {
    try {
        return read();
    } catch (const GeometryError& error) {
        throw GeometryError(error.kind(), "'" + path.string() + "': " + error.what());
    }
}

}  // namespace

ProfileSet profile_set_from_json(std::string_view text, Validate validate) {
    const nlohmann::json document = write::parse_json(text);
    const JsonCursor json(document, "$");
    read_head(json);
    if (json.has("allowance")) read_allowance(json.at("allowance"));  // is it sound?
    const double tolerance = json.at("tolerance").number();
    std::vector<Profile> profiles = read_profiles(json.at("profiles"), validate);
    return checked(json, [&] {
        return ProfileSet(std::move(profiles), read_marks(json.at("marks"), validate),
                          read_datum(json.at("datum")), tolerance, json.at("name").string(),
                          read_notes(json.at("notes")), validate)
            .with_data(json.has("data") ? json.at("data").object_text() : std::string());
    });
}

std::optional<Allowance> allowance_from_json(std::string_view text) {
    const nlohmann::json document = write::parse_json(text);
    const JsonCursor json(document, "$");
    read_head(json);
    if (!json.has("allowance")) return std::nullopt;
    return read_allowance(json.at("allowance"));
}

ProfileSet read_json(const std::filesystem::path& path, Validate validate) {
    const std::string content = content_of(path);
    return with_path(path, [&] { return profile_set_from_json(content, validate); });
}

std::optional<Allowance> read_json_allowance(const std::filesystem::path& path) {
    const std::string content = content_of(path);
    return with_path(path, [&] { return allowance_from_json(content); });
}

}  // namespace planform
