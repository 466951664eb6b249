#include <stdexcept>
#include <string>
#include <string_view>
#include <type_traits>

#include "binding.hpp"

namespace planform::python {
namespace {

/// Of these the library has longer words for its texts ("blind pocket"), which Python sees as
/// `word`, not as `kind` or `reason`.
template <class Enum>
constexpr bool has_texts = std::is_same_v<Enum, FeatureKind> || std::is_same_v<Enum, NotFlat>;

/// The words of an enum, in the order of its table. Those that the library writes into texts and
/// files are the same, or the module can't be imported.
template <HasWords Enum>
py::tuple words() {
    py::list found;
    for (const auto& [word, value] : Words<Enum>::table) {
        if constexpr (!has_texts<Enum> && requires { word_for(value); })
            if (word_for(value) != std::string_view(word))
                throw std::logic_error("'" + std::string(word) + "' is '" +
                                       std::string(word_for(value)) + "' in the library");
        found.append(word);
    }
    return py::tuple(found);
}

py::typing::Dict<py::str, StrTuple> all_words() {
    py::typing::Dict<py::str, StrTuple> all;
    all["merge"] = words<Merge>();
    all["bend_rule"] = words<BendRuleKind>();
    all["bend"] = words<BendKind>();
    all["heal"] = words<Heal>();
    all["hold"] = words<Hold>();
    all["fit_on"] = words<FitOn>();
    all["side"] = words<Side>();
    all["marks"] = words<MarkedSides>();
    all["at"] = words<At>();
    all["verify"] = words<Verify>();
    all["feature"] = words<FeatureKind>();
    all["feature_side"] = words<FeatureSide>();
    all["not_flat"] = words<NotFlat>();
    all["mirrored"] = words<Turning>();
    all["curves"] = words<CurveStyle>();
    all["unit"] = words<DrawingUnit>();
    all["provenance"] = words<Provenance::Kind>();
    all["gap_closing"] = words<Gap::Closing>();
    all["layout_fault"] = words<LayoutFaultKind>();
    all["rule"] = words<RuleKind>();
    all["severity"] = words<Severity>();
    all["limit_unit"] = words<LimitUnit>();
    all["narrow_place"] = words<NarrowPlace::Kind>();
    all["corners"] = words<Corners>();
    all["contour_role"] = words<ContourRole>();
    all["relief_style"] = words<ReliefStyle>();
    all["entry_shape"] = words<EntryShape>();
    all["start"] = words<StartAt>();
    all["order"] = words<CutOrder>();
    all["cut_role"] = words<CutRole>();
    all["entry_room"] = words<EntryRoom>();
    all["plan_rule"] = words<PlanRule>();
    all["rest"] = words<Rest>();
    return all;
}

}  // namespace

void bind_words(py::module_& module) {
    all_words();
    module.def("_words", &all_words,
               "The words that options and results may be, by what they tell.");
}

}  // namespace planform::python
