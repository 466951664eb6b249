#pragma once

/// Every failure that planform reports: one enum of kinds, one exception class a family.

#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace planform {

/// What went wrong. The message of the exception adds the file, the entity and what to do.
enum class ErrorKind {
    file_missing,         ///< The path names nothing that exists.
    file_unreadable,      ///< The file exists, but can't be opened or read (rights, a folder, ...).
    file_empty,           ///< The file has no bytes.
    file_not_recognised,  ///< The content is neither STEP nor BREP (whatever the suffix says).
    file_damaged,         ///< The format is known, the content is truncated or inconsistent.
    no_solid,             ///< The model holds no solid and no closed shell.
    invalid_argument,     ///< A number or a plane that makes no sense (NaN, zero normal, ...).
    unknown_option,       ///< A word that is not one of the valid ones; the message lists those.
    face_not_flattened,   ///< A face whose outline can't be had exactly; the message names it.
    shell_not_closed,     ///< A shell with free edges where a closed one is needed.
    contour_not_closed,   ///< A chain of curves that does not close.
    law_broken,           ///< A result that breaks a law that every right one keeps.
    bridge_not_placed,    ///< An island or a drop-out that has no room for its bridges.
    no_room_for_allowance,  ///< A hole, slot or tab narrower than what is to be taken off it.
    kernel_failure,         ///< Open CASCADE threw or returned no result.
    file_unwritable,        ///< The output can't be created (folder missing, no rights, disk full).
    json_invalid,           ///< JSON that does not follow the documented schema.
    contour_without_area,   ///< A contour that runs along a line and back: it encloses nothing.
    contour_crosses_itself,  ///< A contour whose curves cross, such as a bow-tie.
    hole_not_inside,         ///< A hole that reaches outside its outer contour.
    holes_overlap,           ///< Two holes of a profile that have area in common.
    tolerance_out_of_range,  ///< A tolerance above a hundredth of what it is for, or below
                             ///< rounding.
    not_unfolded,            ///< A solid that no flat sheet bends to; the message says why.
    no_bend_rule,            ///< A bend that the bend table does not tell the length of.
};

/// All kinds, for tests and tables.
const std::vector<ErrorKind>& all_error_kinds();

/// Short fixed text for a kind, e.g. "the file does not exist".
std::string_view describe(ErrorKind kind);

/// Base of every exception that planform throws.
class Error : public std::runtime_error {
  public:
    Error(ErrorKind kind, const std::string& message) : std::runtime_error(message), kind_(kind) {}
    ErrorKind kind() const noexcept { return kind_; }

  private:
    ErrorKind kind_;
};

/// A model that can't be read.
class LoadError : public Error {
  public:
    using Error::Error;
    LoadError(ErrorKind kind, const std::string& message, std::string path)
        : Error(kind, message), path_(std::move(path)) {}
    /// The file as the caller named it; empty if there is none.
    const std::string& path() const noexcept { return path_; }

  private:
    std::string path_;
};

/// Geometry that can't be flattened, or arguments that describe no geometry.
class GeometryError : public Error {
  public:
    using Error::Error;
};

/// Output that can't be written.
class WriteError : public Error {
  public:
    using Error::Error;
};

}  // namespace planform
