#include <Interface_EntityIterator.hxx>
#include <Interface_Graph.hxx>
#include <StepBasic_ProductDefinition.hxx>
#include <StepBasic_ProductDefinitionWithAssociatedDocuments.hxx>
#include <StepData_StepModel.hxx>
#include <StepRepr_NextAssemblyUsageOccurrence.hxx>
#include <StepRepr_ProductDefinitionShape.hxx>
#include <TCollection_HAsciiString.hxx>

#include "model/step/step_products.hpp"

namespace planform::model {

namespace {

using Text = Handle(TCollection_HAsciiString);

/// Not null, and more than blanks.
bool says_something(const Text& text) { return !text.IsNull() && text->UsefullLength() > 0; }

class Names {
  public:
    Names(const STEPControl_Reader& reader, Products& products)
        : reader_(reader),
          products_(products),
          is_utf8_(reader.StepModel()->SourceCodePage() != Resource_FormatType_NoConversion) {}

    void run() {
        const Handle(StepData_StepModel) model = reader_.StepModel();
        for (int i = 1; i <= model->NbEntities(); ++i) {
            const Handle(Standard_Transient) entity = model->Value(i);
            const Handle(Standard_Type)& type = entity->DynamicType();
            if (type == STANDARD_TYPE(StepRepr_NextAssemblyUsageOccurrence)) {
                name_instance(Handle(StepRepr_NextAssemblyUsageOccurrence)::DownCast(entity));
            } else if (type == STANDARD_TYPE(StepBasic_ProductDefinition) ||
                       type == STANDARD_TYPE(StepBasic_ProductDefinitionWithAssociatedDocuments)) {
                name_product(Handle(StepBasic_ProductDefinition)::DownCast(entity));
            }
        }
    }

  private:
    std::string utf8(const Text& text) const {
        if (text.IsNull()) return {};
        return without_stand_in(text_of(text->String(), is_utf8_));
    }

    /// The stand-ins of the kernel's writer for a missing name of an instance: "=>[0:1:1:2]".
    static std::string without_stand_in(std::string name) {
        if (name.starts_with("=>[0:")) return {};
        return name;
    }

    void name_instance(const Handle(StepRepr_NextAssemblyUsageOccurrence) & usage) {
        const TopoDS_Shape shape = shape_made_of(reader_, usage);
        Node* node = shape.IsNull() ? nullptr : products_.find(shape);
        if (node == nullptr) return;
        if (usage->HasDescription() && says_something(usage->Description())) {
            node->name = utf8(usage->Description());
        } else {
            node->name = utf8(says_something(usage->Name()) ? usage->Name() : usage->Id());
        }
    }

    void name_product(const Handle(StepBasic_ProductDefinition) & definition) {
        const TopoDS_Shape shape = shape_made_of(reader_, definition);
        if (shape.IsNull()) return;
        Node* node = products_.find(shape);
        if (node == nullptr) node = products_.find(shape.Located({}));
        if (node == nullptr) return;
        node->name = without_stand_in(product_name(reader_.StepModel(), definition));
    }

    const STEPControl_Reader& reader_;
    Products& products_;
    bool is_utf8_;
};

}  // namespace

void read_names(const STEPControl_Reader& reader, Products& products) {
    Names(reader, products).run();
}

}  // namespace planform::model
