#pragma once

/// Solids from STEP and BREP, with names, colours, placement and units.

#include <array>
#include <filesystem>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "planform/datum.hpp"
#include "planform/geometry.hpp"

namespace planform {

namespace model {
struct SolidData;  // internal: holds the kernel's shape
}

/// Red, green, blue, each 0 to 1, sRGB.
using Color = std::array<double, 3>;

/// One placed solid of a model. Cheap to copy; immutable. Model coordinates, mm.
class Solid {
  public:
    explicit Solid(std::shared_ptr<const model::SolidData> data);

    /// Name of the part as the file gives it (data, not trusted as a path); "solid N" if none.
    const std::string& name() const;
    /// Names from the root of the assembly down to this solid, its own last. Where the file names
    /// an instance ("bolt 3" of part "bolt"), the path has the instance's name and name() the
    /// part's.
    const std::vector<std::string>& path() const;
    /// The colour of this instance; else of the solid, of its part, of all its faces if they have
    /// the same, of the assembly above; nothing if the file gives none.
    std::optional<Color> color() const;
    /// The layers it lies on, by name, sorted: those that the file gives this instance; else the
    /// solid, its part, all its faces if they lie on the same, the assembly above; none if it gives
    /// none. BREP carries none.
    const std::vector<std::string>& layers() const;
    /// Placement of the distinct shape in the model.
    const Transform3& placement() const;
    /// Which distinct shape this is an instance of: equal numbers, same shape.
    int shape_index() const;
    /// Which placed part of the model this body belongs to: equal numbers, bodies of one part. A
    /// BREP file names no parts: each of its bodies is one.
    int part() const;
    /// Name of that part; name() adds a number where the part has several bodies.
    const std::string& part_name() const;
    /// Volume in mm^3 and area of the surface in mm^2. The parts of planar faces by Green's theorem
    /// along their edges, exact to rounding for lines, arcs and splines; those of others by the
    /// kernel's Gauss integration: 1e-9 relative on cylinders, cones, spheres and tori with
    /// edges along their parameters, 1e-6 elsewhere. Of a solid that is not closed (see notes) the
    /// volume means nothing. Throws GeometryError if the kernel fails.
    double volume() const;
    double surface_area() const;
    /// Tight box in mm: exact where the faces are planes, cylinders and cones and the edges lines,
    /// circles and ellipses, within 1e-7 otherwise.
    Box3 bounds() const;
    int face_count() const;
    int edge_count() const;
    /// Remarks on this solid, e.g. "closed shell taken as a solid".
    const std::vector<std::string>& notes() const;

    const model::SolidData& data() const { return *data_; }
    /// The same name, path, colour, layers, placement, part and notes, and a distinct shape that is
    /// the same to the last bit. Shapes are compared by digests (XXH3, 128 bits), each made once.
    friend bool operator==(const Solid& a, const Solid& b);

  private:
    std::shared_ptr<const model::SolidData> data_;
};

/// What was repaired while a STEP file was read. Shapes as the file gives them, before they are
/// placed and parts that are no solids are left out.
struct Healed {
    int shapes = 0;
    int shapes_in_full = 0;  ///< healed in full, with all their faces
    int faces = 0;           ///< of all shapes
    int faces_alone = 0;     ///< healed each by itself, of shapes that were not healed in full

    bool operator==(const Healed&) const = default;
};

/// A loaded model: its solids in the order of the file's tree.
class Model {
  public:
    Model(std::vector<Solid> solids, std::string unit, std::string source,
          std::vector<std::string> notes, const Healed& healed = {});

    const std::vector<Solid>& solids() const { return solids_; }
    /// The file's own length unit, e.g. "mm", "inch", "m"; several joined by ", " if mixed;
    /// "mm (assumed)" for BREP, which carries none.
    const std::string& unit() const { return unit_; }
    /// The path, or "memory".
    const std::string& source() const { return source_; }
    /// What a person should know: open shells left out, units overridden, ...
    const std::vector<std::string>& notes() const { return notes_; }
    /// Number of distinct shapes.
    int shape_count() const;
    /// What was repaired; all nought for BREP.
    const Healed& healed() const { return healed_; }
    /// Equal solids in the same order, unit, source, notes and repairs.
    bool operator==(const Model&) const = default;

  private:
    std::vector<Solid> solids_;
    std::string unit_;
    std::string source_;
    std::vector<std::string> notes_;
    Healed healed_;
};

/// How much the kernel repairs of what a STEP file holds.
enum class Heal {
    needed,  ///< what does not pass checks of its own: the same solids in little more than half the
             ///< time
    always,  ///< everything
};

struct LoadOptions {
    /// Read all lengths as this unit instead of the file's own ("mm", "cm", "m", "um", "inch",
    /// "foot"); empty: the file's own.
    std::string unit;
    /// Multiply all lengths by this (a model drawn at 1:10 has scale 10). Finite and > 0.
    double scale = 1.0;
    /// Of STEP; a BREP file is taken as it is.
    Heal heal = Heal::needed;
};

/// Reads STEP (AP203, AP214, AP242; .step .stp, gzip-compressed too) or BREP (text, binary); the
/// content decides, not the suffix. Lengths come out in mm whatever the file's unit. Throws
/// LoadError with the path and what to do; GeometryError for a bad option.
Model load(const std::filesystem::path& path, const LoadOptions& options = {});

/// The same from the bytes of a BREP file, text or binary.
Model from_brep(std::string_view data, const LoadOptions& options = {});

/// The file, then the files that it names as parts of its own, or that one of those names: all
/// whose change may change what load() gives. Throws LoadError if the file itself can't be read.
std::vector<std::filesystem::path> model_files(const std::filesystem::path& path);

/// The files that the bytes of a model's file name, those that are there and those that are not.
struct NamedFiles {
    std::vector<std::filesystem::path> there;
    /// Only those whose names end with one of the suffixes asked for.
    std::vector<std::filesystem::path> absent;
};

/// What bytes that were read from `path` name as parts of their own; not what those name in turn.
/// `suffixes` are in lower case. Throws LoadError for damaged gzip data.
NamedFiles files_named_in(std::string_view bytes, const std::filesystem::path& path,
                          const std::vector<std::string>& suffixes = {});

/// The valid words for LoadOptions::unit.
const std::vector<std::string>& unit_names();

/// The plane of a planar face (1-based number), normal pointing out of the solid; its origin is the
/// foot of the model's origin on it, its x the model's X laid into it (Y where X is the normal).
/// Throws GeometryError if there is no such face or it is not planar.
Datum face_datum(const Solid& solid, int face);

}  // namespace planform
