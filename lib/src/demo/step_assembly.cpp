#include "demo/step_assembly.hpp"

#include <STEPControl_ActorWrite.hxx>
#include <STEPControl_Controller.hxx>
#include <Standard_Version.hxx>
#include <StepBasic_Product.hxx>
#include <StepBasic_ProductDefinition.hxx>
#include <StepBasic_ProductDefinitionFormation.hxx>
#include <StepBasic_ProductDefinitionRelationship.hxx>
#include <StepRepr_ProductDefinitionShape.hxx>
#include <StepShape_ContextDependentShapeRepresentation.hxx>
#include <StepShape_ShapeDefinitionRepresentation.hxx>
#include <TCollection_HAsciiString.hxx>
#include <TopTools_MapOfShape.hxx>
#include <TransferBRep.hxx>
#include <TransferBRep_ShapeMapper.hxx>
#include <Transfer_FinderProcess.hxx>
#include <XSControl_TransferWriter.hxx>
#include <XSControl_WorkSession.hxx>

namespace planform::demo {

namespace {

/// The kernel's own takes each compound for an assembly; here a part may be one of several bodies.
class Actor : public STEPControl_ActorWrite {
  public:
    explicit Actor(const std::vector<TopoDS_Shape>& assemblies) {
        for (const TopoDS_Shape& assembly : assemblies) assemblies_.Add(assembly);
    }

#if OCC_VERSION_HEX >= 0x070800
    Standard_Boolean IsAssembly(const Handle(StepData_StepModel) &,
                                TopoDS_Shape& shape) const override {
        return assemblies_.Contains(shape);
    }
#else
    Standard_Boolean IsAssembly(TopoDS_Shape& shape) const override {
        return assemblies_.Contains(shape);
    }
#endif

  private:
    TopTools_MapOfShape assemblies_;
};

class Controller : public STEPControl_Controller {
  public:
    explicit Controller(const std::vector<TopoDS_Shape>& assemblies) {
        myAdaptorWrite = new Actor(assemblies);
    }
};

template <class Entity>
opencascade::handle<Entity> made_of(const Handle(Transfer_FinderProcess) & made,
                                    const TopoDS_Shape& shape) {
    opencascade::handle<Entity> entity;
    made->FindTypedTransient(TransferBRep::ShapeMapper(made, shape), STANDARD_TYPE(Entity), entity);
    return entity;
}

void name_product(const Handle(Transfer_FinderProcess) & made, const Named& named) {
    const auto link = made_of<StepShape_ShapeDefinitionRepresentation>(made, named.shape);
    if (link.IsNull()) return;
    const auto product = link->Definition()
                             .PropertyDefinition()
                             ->Definition()
                             .ProductDefinition()
                             ->Formation()
                             ->OfProduct();
    product->SetId(new TCollection_HAsciiString(named.name.c_str()));
    product->SetName(new TCollection_HAsciiString(named.name.c_str()));
}

void name_instance(const Handle(Transfer_FinderProcess) & made, const Named& named) {
    const auto link = made_of<StepShape_ContextDependentShapeRepresentation>(made, named.shape);
    if (link.IsNull()) return;
    link->RepresentedProductRelation()->Definition().ProductDefinitionRelationship()->SetName(
        new TCollection_HAsciiString(named.name.c_str()));
}

}  // namespace

bool transfer(const Station& station, STEPControl_Writer& writer) {
    const Handle(XSControl_WorkSession) session = writer.WS();
    session->SetController(new Controller(station.assemblies));
    if (writer.Transfer(station.root, STEPControl_AsIs) != IFSelect_RetDone) return false;
    const Handle(Transfer_FinderProcess) made = session->TransferWriter()->FinderProcess();
    for (const Named& product : station.products) name_product(made, product);
    for (const Named& instance : station.instances) name_instance(made, instance);
    return true;
}

}  // namespace planform::demo
