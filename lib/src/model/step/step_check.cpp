#include "model/step/step_check.hpp"

#include <Interface_Check.hxx>
#include <Interface_EntityIterator.hxx>
#include <Interface_Graph.hxx>
#include <Interface_ReportEntity.hxx>
#include <StepData_StepModel.hxx>
#include <StepGeom_Curve.hxx>
#include <StepGeom_Pcurve.hxx>
#include <StepRepr_DefinitionalRepresentation.hxx>
#include <StepRepr_ItemDefinedTransformation.hxx>
#include <StepRepr_NextAssemblyUsageOccurrence.hxx>
#include <StepRepr_ProductDefinitionShape.hxx>
#include <StepRepr_RepresentationItem.hxx>
#include <StepRepr_RepresentationRelationshipWithTransformation.hxx>
#include <StepRepr_Transformation.hxx>
#include <StepShape_ContextDependentShapeRepresentation.hxx>
#include <StepShape_ShapeRepresentation.hxx>
#include <StepShape_SolidModel.hxx>
#include <TCollection_HAsciiString.hxx>
#include <XSControl_TransferReader.hxx>
#include <XSControl_WorkSession.hxx>

#include "planform/error.hpp"

namespace planform::model {

namespace {

std::string describe(const Handle(StepData_StepModel) & model, int number) {
    const Handle(Standard_Transient) entity = model->Value(number);
    const Handle(TCollection_HAsciiString) label = model->StringLabel(entity);
    return std::string(label.IsNull() ? "?" : label->ToCString()) + " (" +
           model->TypeName(entity, Standard_False) + ")";
}

std::string reason(const Handle(StepData_StepModel) & model, int number) {
    const Handle(Interface_Check) check = model->ReportEntity(number)->Check();
    return check->NbFails() > 0 ? check->CFail(1) : "unknown cause";
}

/// Numbers of the instances that the kernel could not make sense of.
std::vector<int> wrong_instances(const Handle(StepData_StepModel) & model) {
    std::vector<int> numbers;
    for (int i = 1; i <= model->NbEntities(); ++i) {
        if (model->IsReportEntity(i) && model->ReportEntity(i)->Check()->HasFailed()) {
            numbers.push_back(i);
        }
    }
    return numbers;
}

/// Says where a part stands, but not what is there, or of what. Texts alone don't matter.
bool is_broken_link(const Handle(Standard_Transient) & entity) {
    if (const auto usage = Handle(StepRepr_NextAssemblyUsageOccurrence)::DownCast(entity);
        !usage.IsNull()) {
        return usage->RelatedProductDefinitionAP242().Value().IsNull() ||
               usage->RelatingProductDefinitionAP242().Value().IsNull();
    }
    if (const auto place = Handle(StepShape_ContextDependentShapeRepresentation)::DownCast(entity);
        !place.IsNull()) {
        return place->RepresentationRelation().IsNull() ||
               place->RepresentedProductRelation().IsNull();
    }
    if (const auto move = Handle(StepRepr_ItemDefinedTransformation)::DownCast(entity);
        !move.IsNull()) {
        return move->TransformItem1().IsNull() || move->TransformItem2().IsNull();
    }
    const auto moved =
        Handle(StepRepr_RepresentationRelationshipWithTransformation)::DownCast(entity);
    return !moved.IsNull() && (moved->Rep1().IsNull() || moved->Rep2().IsNull() ||
                               moved->TransformationOperator().Value().IsNull());
}

/// Marks all instances that shape representations and their places rest on, directly or through
/// others.
std::vector<bool> needed_by_shapes(const Handle(StepData_StepModel) & model,
                                   const Interface_Graph& graph) {
    std::vector<bool> needed(static_cast<size_t>(model->NbEntities()) + 1, false);
    std::vector<Handle(Standard_Transient)> waiting;
    for (int i = 1; i <= model->NbEntities(); ++i) {
        const bool is_shape = model->Value(i)->IsKind(STANDARD_TYPE(StepShape_ShapeRepresentation));
        if (!is_shape &&
            !model->Value(i)->IsKind(STANDARD_TYPE(StepRepr_ItemDefinedTransformation)))
            continue;
        needed[static_cast<size_t>(i)] = is_shape;
        waiting.push_back(model->Value(i));
    }
    while (!waiting.empty()) {
        const Handle(Standard_Transient) entity = waiting.back();
        waiting.pop_back();
        for (Interface_EntityIterator used = graph.Shareds(entity); used.More(); used.Next()) {
            const auto number = static_cast<size_t>(model->Number(used.Value()));
            if (number == 0 || needed[number]) continue;
            needed[number] = true;
            waiting.push_back(used.Value());
        }
    }
    return needed;
}

/// The kernel takes what a parameter curve refers to for a curve without looking.
void check_parameter_curves(const Handle(StepData_StepModel) & model, const std::string& source) {
    for (int i = 1; i <= model->NbEntities(); ++i) {
        const auto curve = Handle(StepGeom_Pcurve)::DownCast(model->Value(i));
        if (curve.IsNull()) continue;
        const auto representation = curve->ReferenceToCurve();
        if (!representation.IsNull() && !representation->Items().IsNull() &&
            representation->NbItems() > 0 &&
            representation->ItemsValue(1)->IsKind(STANDARD_TYPE(StepGeom_Curve))) {
            continue;
        }
        throw LoadError(ErrorKind::file_damaged,
                        source + ": the STEP data are damaged: " + describe(model, i) +
                            " holds no curve; copy the file again, or export the model again");
    }
}

}  // namespace

std::vector<std::string> check_instances(const STEPControl_Reader& reader,
                                         const std::string& source) {
    const Handle(StepData_StepModel) model = reader.StepModel();
    if (model->NbEntities() == 0) return {};  // such a model has no graph
    check_parameter_curves(model, source);
    check_circles(reader, source);
    const std::vector<int> wrong = wrong_instances(model);
    if (wrong.empty()) return {};
    const std::vector<bool> needed = needed_by_shapes(model, reader.WS()->Graph());
    for (const int number : wrong) {
        if (!needed[static_cast<size_t>(number)] && !is_broken_link(model->Value(number))) continue;
        throw LoadError(ErrorKind::file_damaged,
                        source + ": the STEP data are damaged: " + describe(model, number) + ": " +
                            reason(model, number) +
                            "; copy the file again, or export the model again");
    }
    return {std::to_string(wrong.size()) +
            " instances that no shape needs are not understood, first " +
            describe(model, wrong.front())};
}

void check_transfer(const STEPControl_Reader& reader, const std::string& source) {
    const Handle(StepData_StepModel) model = reader.StepModel();
    const Handle(XSControl_TransferReader) transfer = reader.WS()->TransferReader();
    for (int i = 1; i <= model->NbEntities(); ++i) {
        const Handle(Standard_Transient) entity = model->Value(i);
        if (!entity->IsKind(STANDARD_TYPE(StepShape_SolidModel))) continue;
        // Not recorded: nothing in the assembly uses it, or it is part of another solid model.
        if (!transfer->IsRecorded(entity) || transfer->HasResult(entity)) continue;
        throw LoadError(ErrorKind::file_damaged,
                        source + ": the solid " + describe(model, i) +
                            " can't be made from its data; export the model again, or repair the "
                            "solid where it was drawn");
    }
}

}  // namespace planform::model
