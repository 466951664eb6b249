#include "planform/error.hpp"

namespace planform {

const std::vector<ErrorKind>& all_error_kinds() {
    static const std::vector<ErrorKind> kinds = {
        ErrorKind::file_missing,
        ErrorKind::file_unreadable,
        ErrorKind::file_empty,
        ErrorKind::file_not_recognised,
        ErrorKind::file_damaged,
        ErrorKind::no_solid,
        ErrorKind::invalid_argument,
        ErrorKind::unknown_option,
        ErrorKind::face_not_flattened,
        ErrorKind::shell_not_closed,
        ErrorKind::contour_not_closed,
        ErrorKind::law_broken,
        ErrorKind::bridge_not_placed,
        ErrorKind::no_room_for_allowance,
        ErrorKind::kernel_failure,
        ErrorKind::file_unwritable,
        ErrorKind::json_invalid,
        ErrorKind::contour_without_area,
        ErrorKind::contour_crosses_itself,
        ErrorKind::hole_not_inside,
        ErrorKind::holes_overlap,
        ErrorKind::tolerance_out_of_range,
        ErrorKind::not_unfolded,
        ErrorKind::no_bend_rule,
    };
    return kinds;
}

std::string_view describe(ErrorKind kind) {
    switch (kind) {
        case ErrorKind::file_missing:
            return "the file does not exist";
        case ErrorKind::file_unreadable:
            return "the file can't be read";
        case ErrorKind::file_empty:
            return "the file is empty";
        case ErrorKind::file_not_recognised:
            return "the file is neither STEP nor BREP";
        case ErrorKind::file_damaged:
            return "the file is damaged";
        case ErrorKind::no_solid:
            return "the model holds no solid";
        case ErrorKind::invalid_argument:
            return "an argument makes no sense";
        case ErrorKind::unknown_option:
            return "an option is not one of the valid ones";
        case ErrorKind::face_not_flattened:
            return "a face can't be flattened exactly";
        case ErrorKind::shell_not_closed:
            return "a shell is not closed";
        case ErrorKind::contour_not_closed:
            return "a contour is not closed";
        case ErrorKind::law_broken:
            return "an outline breaks a law that every right one keeps";
        case ErrorKind::bridge_not_placed:
            return "a bridge has no room";
        case ErrorKind::no_room_for_allowance:
            return "the outline has no room for an allowance";
        case ErrorKind::kernel_failure:
            return "the geometry kernel failed";
        case ErrorKind::file_unwritable:
            return "the file can't be written";
        case ErrorKind::json_invalid:
            return "the JSON does not follow the schema";
        case ErrorKind::contour_without_area:
            return "a contour encloses no area";
        case ErrorKind::contour_crosses_itself:
            return "a contour crosses itself";
        case ErrorKind::hole_not_inside:
            return "a hole is not inside its outer contour";
        case ErrorKind::holes_overlap:
            return "two holes overlap";
        case ErrorKind::tolerance_out_of_range:
            return "a tolerance is too large or too small for the part";
        case ErrorKind::not_unfolded:
            return "no flat sheet bends to the solid";
        case ErrorKind::no_bend_rule:
            return "the bend table does not tell of a bend";
    }
    return "unknown error";
}

}  // namespace planform
