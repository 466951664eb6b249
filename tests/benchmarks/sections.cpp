#include "sections.hpp"

#include <BRepAlgoAPI_Section.hxx>
#include <BRep_Tool.hxx>
#include <ShapeAnalysis_FreeBounds.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_HSequenceOfShape.hxx>
#include <TopoDS.hxx>
#include <cstdio>
#include <exception>
#include <filesystem>
#include <gp_Pln.hxx>

#include "models.hpp"
#include "planform/flatten.hpp"
#include "planform/occt.hpp"
#include "ratios.hpp"
#include "stopwatch.hpp"

using namespace planform;

namespace benchmark {
namespace {

constexpr double above_middle = 0.0123;  // of the height
constexpr double join_within = 1e-6;     // mm, the kernel's own choice for sections

struct KernelSection {
    int wires = 0, open = 0;
};

KernelSection kernel_section(const TopoDS_Shape& shape, double height) {
    BRepAlgoAPI_Section section(shape, gp_Pln(gp_Pnt(0, 0, height), gp_Dir(0, 0, 1)),
                                Standard_False);
    section.Build();
    Handle(TopTools_HSequenceOfShape) edges = new TopTools_HSequenceOfShape;
    Handle(TopTools_HSequenceOfShape) wires;
    for (TopExp_Explorer it(section.Shape(), TopAbs_EDGE); it.More(); it.Next())
        edges->Append(it.Current());
    KernelSection result;
    if (edges->IsEmpty()) return result;
    ShapeAnalysis_FreeBounds::ConnectEdgesToWires(edges, join_within, Standard_False, wires);
    for (int i = 1; i <= wires->Length(); ++i) {
        ++result.wires;
        result.open += !BRep_Tool::IsClosed(wires->Value(i));
    }
    return result;
}

double height_of(const std::vector<Solid>& solids) {
    Box3 box;
    for (const Solid& solid : solids) box.extend(solid.bounds());
    return box.min().z() + (0.5 + above_middle) * (box.max().z() - box.min().z());
}

}  // namespace

int compare_sections(const std::vector<std::string>& files) {
    std::printf(
        "| model | faces | ours, ms | contours | area, mm² | kernel, ms | wires | of them open | "
        "ratio |\n"
        "| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |\n");
    Ratios ratios;
    int failures = 0;
    for (const std::string& file : files) {
        const std::string name = std::filesystem::path(file).stem().string().substr(0, 44);
        try {
            const std::vector<Solid> solids = load(file).solids();
            int faces = 0;
            for (const Solid& solid : solids) faces += solid.face_count();
            const double height = height_of(solids);
            std::size_t contours = 0;
            double area = 0.0;
            const double ours = fastest([&] {
                const ProfileSet set = section(solids, Datum::xy(), height);
                contours = 0;
                for (const Profile& profile : set.profiles())
                    contours += 1 + profile.holes().size();
                area = set.area();
            });
            const TopoDS_Compound shape = together(solids);
            KernelSection theirs;
            const double kernel = fastest([&] { theirs = kernel_section(shape, height); });
            ratios.add(ours / kernel);
            std::printf("| %s | %d | %.2f | %zu | %.3f | %.1f | %d | %d | %.4f |\n", name.c_str(),
                        faces, ours, contours, area, kernel, theirs.wires, theirs.open,
                        ours / kernel);
        } catch (const std::exception& error) {
            ++failures;
            std::printf("| %s | failed: %s |\n", name.c_str(), error.what());
        }
        std::fflush(stdout);
    }
    std::printf("\n");
    ratios.print("the kernel's section");
    return failures;
}

}  // namespace benchmark
