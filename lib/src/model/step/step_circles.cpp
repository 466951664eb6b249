#include <StepBasic_Product.hxx>
#include <StepBasic_ProductDefinition.hxx>
#include <StepData_StepModel.hxx>
#include <StepRepr_MappedItem.hxx>
#include <StepRepr_NextAssemblyUsageOccurrence.hxx>
#include <StepRepr_Representation.hxx>
#include <StepRepr_RepresentationMap.hxx>
#include <StepRepr_RepresentationRelationshipWithTransformation.hxx>
#include <TCollection_HAsciiString.hxx>
#include <map>

#include "model/step/step_check.hpp"
#include "model/step/step_nodes.hpp"
#include "planform/error.hpp"

namespace planform::model {

namespace {

/// What each instance, by its number, is made of.
using Holders = std::map<int, std::vector<int>>;

/// The numbers along one circle, the first again at the end; empty if there is none.
std::vector<int> circle_in(const Holders& holders) {
    Holders held_by;
    std::map<int, std::size_t> open;  // parts that are not yet known to end
    std::vector<int> ended;
    for (const auto& [holder, held] : holders) {
        open[holder] = held.size();
        for (const int part : held) {
            held_by[part].push_back(holder);
            if (!holders.contains(part) && open.try_emplace(part, 0).second) ended.push_back(part);
        }
    }
    while (!ended.empty()) {
        const int part = ended.back();
        ended.pop_back();
        for (const int holder : held_by[part])
            if (--open[holder] == 0) ended.push_back(holder);
    }
    std::vector<int> way;
    std::map<int, std::size_t> place;
    for (const auto& [holder, left] : open) {
        if (left == 0) continue;
        for (int at = holder; place.try_emplace(at, way.size()).second;) {
            way.push_back(at);
            for (const int part : holders.at(at)) {
                if (open[part] == 0) continue;
                at = part;
                break;
            }
            if (!place.contains(at)) continue;
            way.push_back(at);
            return {way.begin() + static_cast<std::ptrdiff_t>(place[at]), way.end()};
        }
    }
    return {};
}

void add(Holders& holders, const Handle(StepData_StepModel) & model,
         const Handle(Standard_Transient) & holder, const Handle(Standard_Transient) & part) {
    if (holder.IsNull() || part.IsNull()) return;
    const int from = model->Number(holder), to = model->Number(part);
    if (from > 0 && to > 0) holders[from].push_back(to);
}

Holders assemblies(const Handle(StepData_StepModel) & model) {
    Holders found;
    for (int i = 1; i <= model->NbEntities(); ++i) {
        const auto usage = Handle(StepRepr_NextAssemblyUsageOccurrence)::DownCast(model->Value(i));
        if (usage.IsNull()) continue;
        add(found, model, usage->RelatingProductDefinition(), usage->RelatedProductDefinition());
    }
    return found;
}

/// Representations that hold others as mapped items, or that are placed in themselves.
Holders representations(const Handle(StepData_StepModel) & model) {
    Holders found;
    for (int i = 1; i <= model->NbEntities(); ++i) {
        const Handle(Standard_Transient) entity = model->Value(i);
        const auto placed =
            Handle(StepRepr_RepresentationRelationshipWithTransformation)::DownCast(entity);
        if (!placed.IsNull() && placed->Rep1() == placed->Rep2())
            add(found, model, placed->Rep1(), placed->Rep2());
        const auto representation = Handle(StepRepr_Representation)::DownCast(entity);
        if (representation.IsNull() || representation->Items().IsNull()) continue;
        for (int j = 1; j <= representation->NbItems(); ++j) {
            const auto item = Handle(StepRepr_MappedItem)::DownCast(representation->ItemsValue(j));
            if (item.IsNull() || item->MappingSource().IsNull()) continue;
            add(found, model, representation, item->MappingSource()->MappedRepresentation());
        }
    }
    return found;
}

std::string name_of(const Handle(StepData_StepModel) & model, int number) {
    const Handle(Standard_Transient) entity = model->Value(number);
    const auto definition = Handle(StepBasic_ProductDefinition)::DownCast(entity);
    const std::string name = definition.IsNull() ? std::string() : product_name(model, definition);
    if (!name.empty()) return "'" + name + "'";
    const Handle(TCollection_HAsciiString) label = model->StringLabel(entity);
    return label.IsNull() ? "?" : label->ToCString();
}

}  // namespace

void check_circles(const STEPControl_Reader& reader, const std::string& source) {
    const Handle(StepData_StepModel) model = reader.StepModel();
    for (const Holders& holders : {assemblies(model), representations(model)}) {
        const std::vector<int> circle = circle_in(holders);
        if (circle.empty()) continue;
        std::string way = name_of(model, circle.front());
        for (std::size_t i = 1; i < circle.size(); ++i)
            way += " holds " + name_of(model, circle[i]);
        throw LoadError(ErrorKind::file_damaged,
                        source + ": the STEP data are damaged: an assembly holds itself: " + way +
                            "; copy the file again, or export the model again");
    }
}

}  // namespace planform::model
