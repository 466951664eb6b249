#include "model/step/step_units.hpp"

#include <STEPConstruct_UnitContext.hxx>
#include <StepBasic_ConversionBasedUnit.hxx>
#include <StepBasic_ConversionBasedUnitAndLengthUnit.hxx>
#include <StepBasic_HArray1OfNamedUnit.hxx>
#include <StepBasic_LengthUnit.hxx>
#include <StepBasic_MeasureWithUnit.hxx>
#include <StepBasic_SiUnitAndLengthUnit.hxx>
#include <StepGeom_GeomRepContextAndGlobUnitAssCtxAndGlobUncertaintyAssCtx.hxx>
#include <StepGeom_GeometricRepresentationContextAndGlobalUnitAssignedContext.hxx>
#include <StepRepr_GlobalUnitAssignedContext.hxx>
#include <StepRepr_RepresentationContext.hxx>
#include <StepShape_ShapeRepresentation.hxx>
#include <TCollection_HAsciiString.hxx>
#include <algorithm>
#include <cctype>
#include <optional>
#include <sstream>
#include <vector>

#include "model/kernel/units.hpp"

namespace planform::model {

namespace {

/// The part of a context that holds units, for each way in which the kernel models such contexts.
Handle(StepRepr_GlobalUnitAssignedContext) unit_part(const Handle(Standard_Transient) & context) {
    using WithUnits = StepGeom_GeometricRepresentationContextAndGlobalUnitAssignedContext;
    using WithUncertainty = StepGeom_GeomRepContextAndGlobUnitAssCtxAndGlobUncertaintyAssCtx;
    if (const auto plain = Handle(StepRepr_GlobalUnitAssignedContext)::DownCast(context)) {
        return plain;
    }
    if (const auto joined = opencascade::handle<WithUncertainty>::DownCast(context)) {
        return joined->GlobalUnitAssignedContext();
    }
    if (const auto joined = opencascade::handle<WithUnits>::DownCast(context)) {
        return joined->GlobalUnitAssignedContext();
    }
    return {};
}

bool is_length(const Handle(StepBasic_NamedUnit) & unit) {
    return !unit.IsNull() &&
           (unit->IsKind(STANDARD_TYPE(StepBasic_SiUnitAndLengthUnit)) ||
            unit->IsKind(STANDARD_TYPE(StepBasic_ConversionBasedUnitAndLengthUnit)) ||
            unit->IsKind(STANDARD_TYPE(StepBasic_LengthUnit)));
}

/// Millimetres in a unit; nothing if the chain of conversions does not end at the metre.
std::optional<double> millimetres(const Handle(StepBasic_NamedUnit) & unit, int depth = 0) {
    if (const auto si = Handle(StepBasic_SiUnit)::DownCast(unit)) {
        if (si->Name() != StepBasic_sunMetre) return std::nullopt;
        return 1000.0 *
               (si->HasPrefix() ? STEPConstruct_UnitContext::ConvertSiPrefix(si->Prefix()) : 1.0);
    }
    // In ISO 10303-41 a unit may rest on another converted unit; a file could make a ring of them.
    const auto converted = Handle(StepBasic_ConversionBasedUnit)::DownCast(unit);
    if (converted.IsNull() || converted->ConversionFactor().IsNull() || depth > 8) {
        return std::nullopt;
    }
    const Handle(StepBasic_MeasureWithUnit) measure = converted->ConversionFactor();
    const auto base = millimetres(measure->UnitComponent().NamedUnit(), depth + 1);
    if (!base) return std::nullopt;
    return measure->ValueComponent() * *base;
}

/// The file's own word, for units that are none of ours.
std::string own_word(const Handle(StepBasic_NamedUnit) & unit, std::optional<double> factor) {
    const auto converted = Handle(StepBasic_ConversionBasedUnit)::DownCast(unit);
    if (!converted.IsNull() && !converted->Name().IsNull()) {
        std::string word = converted->Name()->ToCString();
        std::erase(word, '\'');
        std::transform(word.begin(), word.end(), word.begin(),
                       [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
        return word;
    }
    if (!factor) return "unknown";
    std::ostringstream text;
    text << *factor << " mm";
    return text.str();
}

std::string word_of(const Handle(StepBasic_NamedUnit) & unit) {
    const std::optional<double> factor = millimetres(unit);
    return unit_word(factor.value_or(0.0), own_word(unit, factor));
}

}  // namespace

std::string length_units(const Handle(StepData_StepModel) & model) {
    std::vector<std::string> words;
    for (int i = 1; i <= model->NbEntities(); ++i) {
        const auto representation =
            Handle(StepShape_ShapeRepresentation)::DownCast(model->Value(i));
        if (representation.IsNull()) continue;
        const auto units = unit_part(representation->ContextOfItems());
        if (units.IsNull() || units->Units().IsNull()) continue;
        for (int j = 1; j <= units->NbUnits(); ++j) {
            if (!is_length(units->UnitsValue(j))) continue;
            const std::string word = word_of(units->UnitsValue(j));
            if (std::find(words.begin(), words.end(), word) == words.end()) words.push_back(word);
        }
    }
    std::string joined;
    for (const std::string& word : words) joined += (joined.empty() ? "" : ", ") + word;
    return joined.empty() ? "mm (assumed)" : joined;
}

void replace_length_units_by_mm(const Handle(StepData_StepModel) & model) {
    Handle(StepBasic_SiUnitAndLengthUnit) millimetre = new StepBasic_SiUnitAndLengthUnit;
    millimetre->Init(Standard_True, StepBasic_spMilli, StepBasic_sunMetre);
    for (int i = 1; i <= model->NbEntities(); ++i) {
        const auto units = unit_part(model->Value(i));
        if (units.IsNull() || units->Units().IsNull()) continue;
        for (int j = 1; j <= units->NbUnits(); ++j) {
            if (is_length(units->UnitsValue(j))) units->Units()->SetValue(j, millimetre);
        }
    }
}

}  // namespace planform::model
