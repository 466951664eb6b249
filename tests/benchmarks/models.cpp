#include "models.hpp"

#include <BRep_Builder.hxx>
#include <algorithm>
#include <filesystem>
#include <system_error>
#include <utility>

#include "planform/occt.hpp"

namespace benchmark {

using planform::Solid;

std::vector<std::string> standard_models() {
    const std::string kernel = "/usr/share/opencascade/data/";
    const std::string parts = "/usr/share/kicad/3dmodels/";
    std::vector<std::string> files = {
        kernel + "step/linkrods.step",
        "/usr/share/doc/gmsh-doc/doc/gmsh/demos/api/as1-tu-203.stp.gz",
        kernel + "occ/CrankArm.brep",
        kernel + "occ/Pump_TopCover.brep",
        kernel + "occ/bottle.brep",
        kernel + "occ/Motor-c.brep",
        parts + "Package_QFP.3dshapes/LQFP-216_24x24mm_P0.4mm.step",
        parts + "Heatsink.3dshapes/Heatsink_125x35x50mm_3xFixationM3.step",
        parts +
            "Connector_Dsub.3dshapes/DSUB-15-HD_Female_Vertical_P2.29x1.98mm_MountingHoles.step"};
    // 30 more, evenly over each of four folders.
    const std::vector<std::pair<std::string, std::size_t>> folders = {
        {"Heatsink.3dshapes", 2},
        {"MountingEquipment.3dshapes", 1},
        {"Connector_Dsub.3dshapes", 13},
        {"Package_QFP.3dshapes", 14}};
    for (const auto& [folder, wanted] : folders) {
        std::vector<std::string> found;
        std::error_code missing;
        for (const auto& entry : std::filesystem::directory_iterator(parts + folder, missing)) {
            const std::string path = entry.path().string();
            if (entry.path().extension() == ".step" &&
                std::find(files.begin(), files.end(), path) == files.end())
                found.push_back(path);
        }
        std::sort(found.begin(), found.end());
        const std::size_t count = std::min(wanted, found.size());
        for (std::size_t i = 0; i < count; ++i) files.push_back(found[i * found.size() / count]);
    }
    std::erase_if(files, [](const std::string& file) { return !std::filesystem::exists(file); });
    return files;
}

TopoDS_Compound together(const std::vector<Solid>& solids) {
    BRep_Builder builder;
    TopoDS_Compound compound;
    builder.MakeCompound(compound);
    for (const Solid& solid : solids) builder.Add(compound, shape_of(solid));
    return compound;
}

}  // namespace benchmark
