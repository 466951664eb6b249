// From 7.8 on the kernel's header of styles names it without declaring it.
class StepData_StepModel;

#include <Interface_EntityIterator.hxx>
#include <Interface_Graph.hxx>
#include <Quantity_Color.hxx>
#include <STEPConstruct_Styles.hxx>
#include <StepData_StepModel.hxx>
#include <StepRepr_NextAssemblyUsageOccurrence.hxx>
#include <StepRepr_ProductDefinitionShape.hxx>
#include <StepRepr_SpecifiedHigherUsageOccurrence.hxx>
#include <StepShape_ShapeDefinitionRepresentation.hxx>
#include <StepShape_ShapeRepresentation.hxx>
#include <StepVisual_Colour.hxx>
#include <StepVisual_FillAreaStyle.hxx>
#include <StepVisual_LayeredItem.hxx>
#include <StepVisual_PresentationLayerAssignment.hxx>
#include <StepVisual_PresentationStyleAssignment.hxx>
#include <StepVisual_PresentationStyleByContext.hxx>
#include <StepVisual_PresentationStyleSelect.hxx>
#include <StepVisual_StyleContextSelect.hxx>
#include <StepVisual_StyledItem.hxx>
#include <StepVisual_StyledItemTarget.hxx>
#include <StepVisual_SurfaceSideStyle.hxx>
#include <StepVisual_SurfaceStyleElementSelect.hxx>
#include <StepVisual_SurfaceStyleFillArea.hxx>
#include <StepVisual_SurfaceStyleUsage.hxx>
#include <TCollection_HAsciiString.hxx>
#include <TopoDS_Iterator.hxx>
#include <XSControl_WorkSession.hxx>
#include <algorithm>
#include <set>

#include "model/step/step_products.hpp"

namespace planform::model {

namespace {

std::optional<Color> srgb_of(const STEPConstruct_Styles& styles,
                             const Handle(StepVisual_Colour) & colour) {
    Quantity_Color color;
    if (!styles.DecodeColor(colour, color)) return std::nullopt;
    Color srgb;
    color.Values(srgb[0], srgb[1], srgb[2], Quantity_TOC_sRGB);
    return srgb;
}

bool is_whole(const Handle(StepVisual_SurfaceSideStyle) & side) {
    if (side.IsNull() || side->Styles().IsNull()) return false;
    for (int i = 1; i <= side->NbStyles(); ++i) {
        const StepVisual_SurfaceStyleElementSelect element = side->StylesValue(i);
        const auto filling = element.SurfaceStyleFillArea();
        if (filling.IsNull() || filling->FillArea().IsNull()) continue;
        if (filling->FillArea()->FillStyles().IsNull()) return false;
    }
    return true;
}

/// The kernel follows what a style refers to without looking whether it is there.
bool is_whole(const Handle(StepVisual_StyledItem) & style) {
    if (style->Styles().IsNull()) return false;
    for (int i = 1; i <= style->NbStyles(); ++i) {
        const Handle(StepVisual_PresentationStyleAssignment) assignment = style->StylesValue(i);
        if (assignment.IsNull() || assignment->Styles().IsNull()) return false;
        for (int j = 1; j <= assignment->NbStyles(); ++j) {
            const auto usage = assignment->StylesValue(j).SurfaceStyleUsage();
            if (!usage.IsNull() && !is_whole(usage->Style())) return false;
        }
    }
    return true;
}

/// The colour of a surface; what is said for rendering before what is said for filling (ISO
/// 10303-46).
std::optional<Color> surface_color(const STEPConstruct_Styles& styles,
                                   const Handle(StepVisual_StyledItem) & style) {
    Handle(StepVisual_Colour) fill, boundary, curve, rendering;
    double transparency = 0.0;
    Standard_Boolean in_context = Standard_False;
    if (!styles.GetColors(style, fill, boundary, curve, rendering, transparency, in_context))
        return std::nullopt;
    if (!rendering.IsNull()) return srgb_of(styles, rendering);
    if (!fill.IsNull()) return srgb_of(styles, fill);
    return std::nullopt;
}

/// The representation of an instance that a style is meant for, if it is meant for one only.
Handle(StepShape_ShapeRepresentation) context_of(const Handle(StepVisual_StyledItem) & style) {
    for (int i = 1; i <= style->NbStyles(); ++i) {
        const auto bound =
            Handle(StepVisual_PresentationStyleByContext)::DownCast(style->StylesValue(i));
        if (bound.IsNull()) continue;
        const auto representation =
            Handle(StepShape_ShapeRepresentation)::DownCast(bound->StyleContext().Representation());
        if (!representation.IsNull()) return representation;
    }
    return {};
}

class Looks {
  public:
    Looks(const STEPControl_Reader& reader, Products& products)
        : reader_(reader), products_(products) {}

    void read_colors() {
        STEPConstruct_Styles styles(reader_.WS());
        if (!styles.LoadStyles()) return;
        for (int i = 1; i <= styles.NbStyles(); ++i) {
            const Handle(StepVisual_StyledItem) style = styles.Style(i);
            if (style.IsNull() || !is_whole(style)) continue;
            if (const auto color = surface_color(styles, style)) take_color(style, *color);
        }
        for (Node* node : products_.top)
            hand_down(node->product == nullptr ? *node : *node->product);
    }

    void read_layers() {
        const Handle(StepData_StepModel) model = reader_.StepModel();
        for (int i = 1; i <= model->NbEntities(); ++i) {
            const auto layer =
                Handle(StepVisual_PresentationLayerAssignment)::DownCast(model->Value(i));
            if (layer.IsNull() || layer->AssignedItems().IsNull() || layer->Name().IsNull())
                continue;
            const std::string name = text_of(layer->Name()->String(), true);
            for (int j = 1; j <= layer->NbAssignedItems(); ++j) {
                const TopoDS_Shape shape =
                    shape_made_of(reader_, layer->AssignedItemsValue(j).Value());
                if (!shape.IsNull()) add_layer(layered(shape), name);
            }
        }
    }

  private:
    void take_color(const Handle(StepVisual_StyledItem) & style, const Color& color) {
        if (style->ItemAP242().IsNull()) return;
        const Handle(StepShape_ShapeRepresentation) context = context_of(style);
        if (!context.IsNull()) {
            bool of_longer_path = false;
            Node* instance = instance_in(context, of_longer_path);
            if (of_longer_path) return;
            if (instance != nullptr) {
                instance->look.color = color;
                return;
            }
        }
        const TopoDS_Shape shape = shape_made_of(reader_, style->ItemAP242().Value());
        if (!shape.IsNull()) set_color(shape, color);
    }

    /// The instance of an assembly that a representation belongs to. `of_longer_path`: it belongs
    /// to an instance deeper down, named by all assemblies on the way.
    Node* instance_in(const Handle(StepShape_ShapeRepresentation) & representation,
                      bool& of_longer_path) const {
        Interface_EntityIterator users = reader_.WS()->Graph().Sharings(representation);
        for (users.Start(); users.More(); users.Next()) {
            const auto link =
                Handle(StepShape_ShapeDefinitionRepresentation)::DownCast(users.Value());
            if (link.IsNull()) continue;
            const auto property = Handle(StepRepr_ProductDefinitionShape)::DownCast(
                link->Definition().PropertyDefinition());
            if (property.IsNull()) continue;
            const auto relation = property->Definition().ProductDefinitionRelationship();
            if (relation.IsNull()) continue;
            if (relation->IsKind(STANDARD_TYPE(StepRepr_SpecifiedHigherUsageOccurrence))) {
                of_longer_path = true;
                return nullptr;
            }
            if (!relation->IsKind(STANDARD_TYPE(StepRepr_NextAssemblyUsageOccurrence))) continue;
            const TopoDS_Shape shape = shape_made_of(reader_, relation);
            if (Node* instance = shape.IsNull() ? nullptr : products_.find(shape)) return instance;
        }
        return nullptr;
    }

    static bool is_part(const Node& node) {
        return !(node.product == nullptr ? node : *node.product).is_assembly;
    }

    void set_color(const TopoDS_Shape& shape, const Color& color) {
        Node* node = products_.find(shape);
        if (node != nullptr && is_part(*node)) {
            node->look.color = color;
        } else if (shape.ShapeType() == TopAbs_COMPOUND) {
            for (TopoDS_Iterator children(shape); children.More(); children.Next()) {
                const TopoDS_Shape& child = children.Value();
                Node* part = products_.find(child);
                (part == nullptr ? look_of(child) : part->look).color = color;
            }
        } else {
            look_of(shape).color = color;
        }
    }

    /// An assembly's colour is that of its parts that have none.
    void hand_down(Node& assembly) {
        if (!handed_down_.insert(&assembly).second) return;
        for (Node* instance : assembly.instances) {
            Node& part = *instance->product;
            if (assembly.look.color && !part.look.color) {
                part.look.color = assembly.look.color;
                handed_down_.erase(&part);
            }
            hand_down(part);
        }
    }

    Look& look_of(const TopoDS_Shape& shape) {
        if (Look* known = products_.look_of.ChangeSeek(shape)) return *known;
        return *products_.look_of.Bound(shape, {});
    }

    Look& layered(const TopoDS_Shape& shape) {
        if (Node* node = products_.find(shape)) return node->look;
        if (Node* node = products_.find(shape.Located({}))) return node->look;
        return look_of(shape);
    }

    static void add_layer(Look& look, const std::string& name) {
        const auto place = std::lower_bound(look.layers.begin(), look.layers.end(), name);
        if (place == look.layers.end() || *place != name) look.layers.insert(place, name);
    }

    const STEPControl_Reader& reader_;
    Products& products_;
    std::set<const Node*> handed_down_;
};

}  // namespace

void read_looks(const STEPControl_Reader& reader, Products& products) {
    Looks looks(reader, products);
    looks.read_colors();
    looks.read_layers();
}

}  // namespace planform::model
