// Flattens the demo assembly with the installed library and checks what came out: each plate's
// shadow on its own largest face, times its thickness, is its volume (a plate is a prism); of the
// one bent part that of its blank is, within what its bends are stretched.

#include <cmath>
#include <filesystem>
#include <iostream>
#include <planform/planform.hpp>
#include <set>

int main(int argument_count, char** arguments) {
    if (argument_count != 2) {
        std::cerr << "usage: flatten_demo FOLDER\n";
        return 2;
    }
    const std::filesystem::path folder = arguments[1];
    try {
        std::filesystem::create_directories(folder);
        planform::write_demo_assembly(folder / "station.step");
        const planform::Model model = planform::load(folder / "station.step");

        std::set<int> seen;
        int prisms = 0, blanks = 0;
        for (const planform::Solid& solid : model.solids()) {
            if (!seen.insert(solid.shape_index()).second) continue;
            if (solid.name() == "gutter") {
                const planform::Blank blank = planform::unfold(solid);
                blanks +=
                    std::abs(blank.outline.area() * blank.thickness / solid.volume() - 1.0) < 0.02;
                continue;
            }
            const planform::Datum datum = planform::auto_datum(solid);
            const planform::ProfileSet outline = planform::silhouette(solid, datum);
            planform::write_dxf(outline,
                                folder / (planform::safe_file_stem(solid.name()) + ".dxf"));

            const double thickness = solid.volume() / outline.area();
            const planform::ProfileSet cut = planform::section(solid, datum, thickness / 2.0);
            const double allowed = (cut.tolerance() + outline.tolerance()) * outline.length();
            prisms += std::abs(cut.area() - outline.area()) <= allowed;
            std::cout << solid.name() << ": " << outline.area() << " mm2, " << thickness << " mm\n";
        }
        std::cout << prisms << " of " << seen.size() << " distinct parts are plates, " << blanks
                  << " is bent\n";
        return prisms >= 8 && blanks == 1 && prisms + 1 == static_cast<int>(seen.size()) ? 0 : 1;
    } catch (const planform::Error& error) {
        std::cerr << "flatten_demo: " << error.what() << "\n";
        return 1;
    }
}
