#include "model/heal/healing.hpp"

#include <BRepAdaptor_Surface.hxx>
#include <BRep_Builder.hxx>
#include <Precision.hxx>
#include <ShapeBuild_ReShape.hxx>
#include <ShapeFix_Edge.hxx>
#include <ShapeFix_Face.hxx>
#include <ShapeFix_Wire.hxx>
#include <ShapeProcess_ShapeContext.hxx>
#include <Standard_Failure.hxx>
#include <Standard_Version.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <Transfer_FinderProcess.hxx>
#include <Transfer_TransientProcess.hxx>
#include <XSAlgo.hxx>
#include <XSAlgo_AlgoContainer.hxx>
#include <algorithm>
#include <mutex>
#include <optional>
#include <vector>

#include "model/heal/parameter_curves.hpp"
#include "model/heal/sound_solid.hpp"

namespace planform::model {

namespace {

/// Where the readers of this thread count what they heal; null if they are the caller's own.
thread_local Healed* counts = nullptr;
thread_local Heal how = Heal::always;

/// A solid that was read, on its way to one that can be worked with.
class Completion {
  public:
    Completion(const TopoDS_Shape& solid, double precision, double most)
        : solid_(solid), precision_(std::max(precision, Precision::Confusion())), most_(most) {
        TopExp::MapShapes(solid_, TopAbs_FACE, faces_);
    }

    /// False if it must be healed in full.
    bool run() {
        try {
            return solid_.ShapeType() == TopAbs_SOLID && complete_solid();
        } catch (const Standard_Failure&) {
            return false;
        }
    }

    const TopoDS_Shape& result() const { return result_; }
    int faces() const { return faces_.Extent(); }
    int healed_alone() const { return healed_alone_; }

    /// What the reader's tables must know of faces and edges that were replaced.
    Handle(Standard_Transient) replacements() const {
        if (replaced_.IsNull()) return {};
        Handle(ShapeProcess_ShapeContext) context = new ShapeProcess_ShapeContext(solid_, "");
        context->SetDetalisation(TopAbs_EDGE);
        context->RecordModification(replaced_);
        context->SetResult(result_);
        return context;
    }

  private:
    bool complete_solid() {
        if (!is_closed_and_consistent(solid_)) return false;
        result_ = solid_;
        std::vector<TopoDS_Face> odd;
        for (int i = 1; i <= faces_.Extent(); ++i) {
            const TopoDS_Face& face = TopoDS::Face(faces_(i));
            if (!complete_face(face)) odd.push_back(face);
        }
        mark_edges(odd);
        healed_alone_ = static_cast<int>(odd.size());
        if (!odd.empty() && !(heal(odd) && is_closed_and_consistent(result_))) return false;
        adapt_parameters();
        return is_turned_outward(result_);
    }

    /// False if it must be healed.
    bool complete_face(const TopoDS_Face& face) {
        const std::optional<std::vector<Loop>> loops = loops_of(face);
        if (!loops) return false;
        for (const Loop& loop : *loops) {
            for (const TopoDS_Edge& edge : loop) {
                if (!is_sound_edge(edge, precision_)) return false;
            }
        }
        if (BRepAdaptor_Surface(face, Standard_False).GetType() == GeomAbs_Plane) {
            return is_sound_plane(face, *loops);
        }
        return add_parameter_curves(face, *loops, precision_, projected_);
    }

    /// Curves that the kernel has projected may run otherwise than those in space; those of all
    /// other edges run along with them, as they were made or as there are none.
    void mark_edges(const std::vector<TopoDS_Face>& odd) {
        for (const TopoDS_Face& face : odd) TopExp::MapShapes(face, TopAbs_EDGE, projected_);
        const BRep_Builder builder;
        TopTools_IndexedMapOfShape edges;
        TopExp::MapShapes(solid_, TopAbs_EDGE, edges);
        for (int i = 1; i <= edges.Extent(); ++i) {
            const TopoDS_Edge& edge = TopoDS::Edge(edges(i));
            if (projected_.Contains(edge)) continue;
            builder.SameRange(edge, Standard_True);
            builder.SameParameter(edge, Standard_True);
        }
    }

    /// After projection and healing: as the kernel does at the end of healing a shape.
    void adapt_parameters() {
        ShapeFix_Edge tool;
        for (int i = 1; i <= projected_.Extent(); ++i) {
            const TopoDS_Shape edges =
                replaced_.IsNull() ? projected_(i) : replaced_->Apply(projected_(i));
            if (edges.IsNull()) continue;
            for (TopExp_Explorer edge(edges, TopAbs_EDGE); edge.More(); edge.Next()) {
                tool.FixSameParameter(TopoDS::Edge(edge.Current()));
            }
        }
    }

    /// As the kernel heals the faces of a shell, but these alone.
    bool heal(const std::vector<TopoDS_Face>& odd) {
        replaced_ = new ShapeBuild_ReShape;
        ShapeFix_Face tool;
        tool.SetContext(replaced_);
        tool.SetPrecision(precision_);
        tool.SetMaxTolerance(most_);
        tool.FixWireTool()->FixSameParameterMode() = Standard_False;
        for (const TopoDS_Face& face : odd) {
            const TopoDS_Shape current = replaced_->Apply(face);
            if (current.IsNull() || current.ShapeType() != TopAbs_FACE) return false;
            tool.Init(TopoDS::Face(current));
            tool.Perform();
        }
        result_ = replaced_->Apply(solid_);
        return !result_.IsNull() && result_.ShapeType() == TopAbs_SOLID;
    }

    TopoDS_Shape solid_;
    double precision_, most_;
    TopTools_IndexedMapOfShape faces_;
    TopTools_IndexedMapOfShape projected_;  ///< edges, of odd faces too
    Handle(ShapeBuild_ReShape) replaced_;
    TopoDS_Shape result_;
    int healed_alone_ = 0;
};

/// Stands before the kernel's own healing; readers of the caller's own go straight on to it.
class Gate : public XSAlgo_AlgoContainer {
  public:
    explicit Gate(const Handle(XSAlgo_AlgoContainer) & behind) : behind_(behind) {
        SetToolContainer(behind->ToolContainer());
    }

    void PrepareForTransfer() const override { behind_->PrepareForTransfer(); }

    TopoDS_Shape ProcessShape(const TopoDS_Shape& shape, const double precision, const double most,
                              const Standard_CString resource, const Standard_CString sequence,
                              Handle(Standard_Transient) & information,
                              const Message_ProgressRange& progress,
                              const Standard_Boolean non_manifold
#if OCC_VERSION_HEX >= 0x070800
                              ,
                              const TopAbs_ShapeEnum detail
#endif
    ) const override {
        const std::optional<TopoDS_Shape> completed =
            non_manifold ? std::nullopt : spared(shape, precision, most, information);
        if (completed) return *completed;
        return behind_->ProcessShape(shape, precision, most, resource, sequence, information,
                                     progress, non_manifold
#if OCC_VERSION_HEX >= 0x070800
                                     ,
                                     detail
#endif
        );
    }

#if OCC_VERSION_HEX >= 0x070800
    TopoDS_Shape ProcessShape(const TopoDS_Shape& shape, const double precision, const double most,
                              const Standard_CString resource, const Standard_CString sequence,
                              Handle(Standard_Transient) & information,
                              const Handle(ShapeBuild_ReShape) & replaced,
                              const Message_ProgressRange& progress,
                              const Standard_Boolean non_manifold,
                              const TopAbs_ShapeEnum detail) const override {
        // A caller with a table of its own wants to find all replacements in it.
        const std::optional<TopoDS_Shape> completed =
            non_manifold || !replaced.IsNull() ? std::nullopt
                                               : spared(shape, precision, most, information);
        if (completed) return *completed;
        return behind_->ProcessShape(shape, precision, most, resource, sequence, information,
                                     replaced, progress, non_manifold, detail);
    }
#endif

    Standard_Boolean CheckPCurve(const TopoDS_Edge& edge, const TopoDS_Face& face,
                                 const double precision,
                                 const Standard_Boolean is_seam) const override {
        return behind_->CheckPCurve(edge, face, precision, is_seam);
    }

    void MergeTransferInfo(const Handle(Transfer_TransientProcess) & process,
                           const Handle(Standard_Transient) & information,
                           const int start) const override {
        behind_->MergeTransferInfo(process, information, start);
    }

    void MergeTransferInfo(const Handle(Transfer_FinderProcess) & process,
                           const Handle(Standard_Transient) & information) const override {
        behind_->MergeTransferInfo(process, information);
    }

  private:
    /// A solid that needs no full healing, completed; nothing if it does.
    static std::optional<TopoDS_Shape> spared(const TopoDS_Shape& shape, double precision,
                                              double most,
                                              Handle(Standard_Transient) & information) {
        if (counts == nullptr) return std::nullopt;
        Completion completion(shape, precision, most);
        const bool done = how == Heal::needed && completion.run();
        count(completion, done);
        if (!done) return std::nullopt;
        information = completion.replacements();
        return completion.result();
    }

    static void count(const Completion& completion, bool done) {
        ++counts->shapes;
        counts->faces += completion.faces();
        if (done) {
            counts->faces_alone += completion.healed_alone();
        } else {
            ++counts->shapes_in_full;
        }
    }

    Handle(XSAlgo_AlgoContainer) behind_;
};

/// Once in the life of the process: to take it out and put it back at each call would disturb
/// readers of the caller's own.
void install_gate() {
    static std::once_flag once;
    std::call_once(once, [] { XSAlgo::SetAlgoContainer(new Gate(XSAlgo::AlgoContainer())); });
}

}  // namespace

ShapeHealing::ShapeHealing(Heal as_told) {
    install_gate();
    counts = &healed_;
    how = as_told;
}

ShapeHealing::~ShapeHealing() { counts = nullptr; }

}  // namespace planform::model
