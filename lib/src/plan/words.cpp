#include "planform/plan.hpp"

namespace planform {

std::string_view word_for(PlanRule rule) {
    switch (rule) {
        case PlanRule::entry_left_out:
            return "entry_left_out";
        case PlanRule::entry_tight:
            return "entry_tight";
        case PlanRule::strip_left_out:
            return "strip_left_out";
        case PlanRule::common_cut:
            return "common_cut";
        case PlanRule::falls_through:
            return "falls_through";
        case PlanRule::drop_out:
            return "drop_out";
    }
    return "";
}

std::string_view word_for(EntryRoom room) {
    switch (room) {
        case EntryRoom::none:
            return "none";
        case EntryRoom::as_asked:
            return "as_asked";
        case EntryRoom::moved:
            return "moved";
        case EntryRoom::shortened:
            return "shortened";
        case EntryRoom::middle:
            return "middle";
        case EntryRoom::tight:
            return "tight";
        case EntryRoom::left_out:
            return "left_out";
    }
    return "";
}

std::string_view word_for(CutRole role) {
    switch (role) {
        case CutRole::mark:
            return "mark";
        case CutRole::hole:
            return "hole";
        case CutRole::outer:
            return "outer";
    }
    return "";
}

std::string_view word_for(Rest rest) {
    switch (rest) {
        case Rest::lies:
            return "lies";
        case Rest::may_tip:
            return "may_tip";
        case Rest::falls_through:
            return "falls_through";
    }
    return "";
}

}  // namespace planform
