#include "model/step/step_nodes.hpp"

#include <StepBasic_Product.hxx>
#include <StepBasic_ProductDefinitionFormation.hxx>
#include <TCollection_AsciiString.hxx>
#include <TCollection_ExtendedString.hxx>
#include <TCollection_HAsciiString.hxx>
#include <TransferBRep.hxx>
#include <Transfer_TransientProcess.hxx>
#include <XSControl_TransferReader.hxx>
#include <XSControl_WorkSession.hxx>

namespace planform::model {

Node* Products::find(const TopoDS_Shape& shape) const {
    Node* const* node = node_of.Seek(shape);
    return node == nullptr ? nullptr : *node;
}

std::string text_of(const TCollection_AsciiString& text, bool is_utf8) {
    const TCollection_ExtendedString wide(text, is_utf8);
    std::string utf8(static_cast<size_t>(wide.LengthOfCString()) + 1, '\0');
    char* data = utf8.data();
    utf8.resize(static_cast<size_t>(wide.ToUTF8CString(data)));
    return utf8;
}

std::string product_name(const Handle(StepData_StepModel) & model,
                         const Handle(StepBasic_ProductDefinition) & definition) {
    if (definition.IsNull() || definition->Formation().IsNull()) return {};
    const Handle(StepBasic_Product) product = definition->Formation()->OfProduct();
    if (product.IsNull()) return {};
    // A name of blanks says nothing.
    const bool has_name = !product->Name().IsNull() && product->Name()->UsefullLength() > 0;
    const Handle(TCollection_HAsciiString) text = has_name ? product->Name() : product->Id();
    if (text.IsNull()) return {};
    return text_of(text->String(), model->SourceCodePage() != Resource_FormatType_NoConversion);
}

TopoDS_Shape shape_made_of(const STEPControl_Reader& reader,
                           const Handle(Standard_Transient) & instance) {
    const Handle(Transfer_TransientProcess) process =
        reader.WS()->TransferReader()->TransientProcess();
    const int index = process->MapIndex(instance);
    return index > 0 ? TransferBRep::ShapeResult(process->MapItem(index)) : TopoDS_Shape();
}

}  // namespace planform::model
