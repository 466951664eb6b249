#include "model/step/step_nodes.hpp"

#include <TCollection_AsciiString.hxx>
#include <TCollection_ExtendedString.hxx>
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

TopoDS_Shape shape_made_of(const STEPControl_Reader& reader,
                           const Handle(Standard_Transient) & instance) {
    const Handle(Transfer_TransientProcess) process =
        reader.WS()->TransferReader()->TransientProcess();
    const int index = process->MapIndex(instance);
    return index > 0 ? TransferBRep::ShapeResult(process->MapItem(index)) : TopoDS_Shape();
}

}  // namespace planform::model
