#include "peer.hpp"

#ifdef PLANFORM_HAS_HIDDEN_LINES
#include <BRepBuilderAPI_Copy.hxx>
#include <HLRAlgo_Projector.hxx>
#include <HLRBRep_Algo.hxx>
#include <gp_Ax2.hxx>

#include "planform/occt.hpp"
#include "processor_time.hpp"
#endif

namespace corpus {

double hidden_line_seconds([[maybe_unused]] const std::vector<planform::Solid>& solids,
                           [[maybe_unused]] const planform::Datum& datum) {
#ifdef PLANFORM_HAS_HIDDEN_LINES
    const auto &o = datum.origin(), &n = datum.normal(), &x = datum.x();
    const HLRAlgo_Projector projector(gp_Ax2(
        gp_Pnt(o.x(), o.y(), o.z()), gp_Dir(n.x(), n.y(), n.z()), gp_Dir(x.x(), x.y(), x.z())));
    // It changes what it is given: not the solids that are compared afterwards.
    std::vector<TopoDS_Shape> copies;
    for (const planform::Solid& solid : solids)
        copies.push_back(BRepBuilderAPI_Copy(planform::shape_of(solid)).Shape());
    const ProcessorTime time;
    const Handle(HLRBRep_Algo) algorithm = new HLRBRep_Algo;
    for (const TopoDS_Shape& copy : copies) algorithm->Add(copy);
    algorithm->Projector(projector);
    algorithm->Update();
    algorithm->Hide();
    return time.seconds();
#else
    return 0.0;
#endif
}

}  // namespace corpus
