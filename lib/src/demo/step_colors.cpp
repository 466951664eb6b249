#include "demo/step_colors.hpp"

#include <StepBasic_Product.hxx>
#include <StepBasic_ProductDefinition.hxx>
#include <StepBasic_ProductDefinitionFormation.hxx>
#include <StepRepr_CharacterizedDefinition.hxx>
#include <StepRepr_HArray1OfRepresentationItem.hxx>
#include <StepRepr_PropertyDefinition.hxx>
#include <StepRepr_RepresentedDefinition.hxx>
#include <StepShape_ShapeDefinitionRepresentation.hxx>
#include <StepShape_SolidModel.hxx>
#include <StepVisual_ColourRgb.hxx>
#include <StepVisual_FillAreaStyle.hxx>
#include <StepVisual_FillAreaStyleColour.hxx>
#include <StepVisual_FillStyleSelect.hxx>
#include <StepVisual_HArray1OfFillStyleSelect.hxx>
#include <StepVisual_HArray1OfPresentationStyleAssignment.hxx>
#include <StepVisual_HArray1OfPresentationStyleSelect.hxx>
#include <StepVisual_HArray1OfSurfaceStyleElementSelect.hxx>
#include <StepVisual_MechanicalDesignGeometricPresentationRepresentation.hxx>
#include <StepVisual_PresentationStyleAssignment.hxx>
#include <StepVisual_PresentationStyleSelect.hxx>
#include <StepVisual_StyledItem.hxx>
#include <StepVisual_SurfaceSideStyle.hxx>
#include <StepVisual_SurfaceStyleElementSelect.hxx>
#include <StepVisual_SurfaceStyleFillArea.hxx>
#include <StepVisual_SurfaceStyleUsage.hxx>
#include <TCollection_HAsciiString.hxx>
#include <vector>

namespace planform::demo {

namespace {

Handle(TCollection_HAsciiString) no_name() { return new TCollection_HAsciiString(""); }

/// Name of the product that a shape representation belongs to; empty if it belongs to none.
std::string product_of(const Handle(StepShape_ShapeDefinitionRepresentation) & link) {
    const Handle(StepRepr_PropertyDefinition) property = link->Definition().PropertyDefinition();
    if (property.IsNull()) return {};
    const Handle(StepBasic_ProductDefinition) product = property->Definition().ProductDefinition();
    if (product.IsNull()) return {};
    return product->Formation()->OfProduct()->Name()->ToCString();
}

/// The chain of style entities from a colour up (ISO 10303-46): colour, fill, surface, assignment.
Handle(StepVisual_PresentationStyleAssignment) surface_style(const Color& color) {
    Handle(StepVisual_ColourRgb) rgb = new StepVisual_ColourRgb;
    rgb->Init(no_name(), color[0], color[1], color[2]);
    Handle(StepVisual_FillAreaStyleColour) fill = new StepVisual_FillAreaStyleColour;
    fill->Init(no_name(), rgb);

    StepVisual_FillStyleSelect fill_choice;
    fill_choice.SetValue(fill);
    Handle(StepVisual_HArray1OfFillStyleSelect) fills =
        new StepVisual_HArray1OfFillStyleSelect(1, 1);
    fills->SetValue(1, fill_choice);
    Handle(StepVisual_FillAreaStyle) area_style = new StepVisual_FillAreaStyle;
    area_style->Init(no_name(), fills);
    Handle(StepVisual_SurfaceStyleFillArea) area = new StepVisual_SurfaceStyleFillArea;
    area->Init(area_style);

    StepVisual_SurfaceStyleElementSelect element;
    element.SetValue(area);
    Handle(StepVisual_HArray1OfSurfaceStyleElementSelect) elements =
        new StepVisual_HArray1OfSurfaceStyleElementSelect(1, 1);
    elements->SetValue(1, element);
    Handle(StepVisual_SurfaceSideStyle) side = new StepVisual_SurfaceSideStyle;
    side->Init(no_name(), elements);
    Handle(StepVisual_SurfaceStyleUsage) usage = new StepVisual_SurfaceStyleUsage;
    usage->Init(StepVisual_ssBoth, side);

    StepVisual_PresentationStyleSelect style;
    style.SetValue(usage);
    Handle(StepVisual_HArray1OfPresentationStyleSelect) styles =
        new StepVisual_HArray1OfPresentationStyleSelect(1, 1);
    styles->SetValue(1, style);
    Handle(StepVisual_PresentationStyleAssignment) assignment =
        new StepVisual_PresentationStyleAssignment;
    assignment->Init(styles);
    return assignment;
}

Handle(StepVisual_StyledItem)
    styled(const Handle(StepRepr_RepresentationItem) & solid, const Color& color) {
    Handle(StepVisual_HArray1OfPresentationStyleAssignment) styles =
        new StepVisual_HArray1OfPresentationStyleAssignment(1, 1);
    styles->SetValue(1, surface_style(color));
    Handle(StepVisual_StyledItem) item = new StepVisual_StyledItem;
    item->Init(new TCollection_HAsciiString("color"), styles, solid);
    return item;
}

/// The presentation of all solids of a shape representation; null if it holds no solid.
Handle(Standard_Transient)
    presentation(const Handle(StepRepr_Representation) & shape, const Color& color) {
    std::vector<Handle(StepVisual_StyledItem)> items;
    for (int i = 1; i <= shape->NbItems(); ++i) {
        const Handle(StepRepr_RepresentationItem) item = shape->ItemsValue(i);
        if (item->IsKind(STANDARD_TYPE(StepShape_SolidModel))) items.push_back(styled(item, color));
    }
    if (items.empty()) return {};
    const int count = static_cast<int>(items.size());
    Handle(StepRepr_HArray1OfRepresentationItem) all =
        new StepRepr_HArray1OfRepresentationItem(1, count);
    for (int i = 1; i <= count; ++i) all->SetValue(i, items[static_cast<size_t>(i) - 1]);
    Handle(StepVisual_MechanicalDesignGeometricPresentationRepresentation) result =
        new StepVisual_MechanicalDesignGeometricPresentationRepresentation;
    result->Init(no_name(), all, shape->ContextOfItems());
    return result;
}

}  // namespace

void add_colors(const Handle(StepData_StepModel) & model,
                const std::map<std::string, Color>& color_of_product) {
    std::vector<Handle(Standard_Transient)> presentations;
    for (int i = 1; i <= model->NbEntities(); ++i) {
        const auto link =
            Handle(StepShape_ShapeDefinitionRepresentation)::DownCast(model->Value(i));
        if (link.IsNull()) continue;
        const auto color = color_of_product.find(product_of(link));
        if (color == color_of_product.end()) continue;
        const auto shown = presentation(link->UsedRepresentation(), color->second);
        if (!shown.IsNull()) presentations.push_back(shown);
    }
    for (const auto& shown : presentations) model->AddWithRefs(shown);
}

}  // namespace planform::demo
