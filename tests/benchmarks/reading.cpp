/// benchmark_reading: load() against the kernel's STEPControl_Reader with its defaults, reading and
/// transfer of all roots, in one run; and what was healed. Prints Markdown.
///
///   benchmark_reading [FILE...]   without files 40 of kicad-packages3d

#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <STEPControl_Reader.hxx>
#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <string>
#include <system_error>
#include <vector>

#include "planform/error.hpp"
#include "planform/model.hpp"
#include "ratios.hpp"
#include "stopwatch.hpp"

using namespace planform;

namespace {

/// Evenly out of each of four folders.
std::vector<std::string> standard_files() {
    const std::string parts = "/usr/share/kicad/3dmodels/";
    const std::vector<std::pair<std::string, std::size_t>> folders = {
        {"Heatsink.3dshapes", 3},
        {"MountingEquipment.3dshapes", 1},
        {"Connector_Dsub.3dshapes", 18},
        {"Package_QFP.3dshapes", 18}};
    std::vector<std::string> files;
    for (const auto& [folder, wanted] : folders) {
        std::vector<std::string> found;
        std::error_code missing;
        for (const auto& entry : std::filesystem::directory_iterator(parts + folder, missing)) {
            if (entry.path().extension() == ".step") found.push_back(entry.path().string());
        }
        std::sort(found.begin(), found.end());
        const std::size_t count = std::min(wanted, found.size());
        for (std::size_t i = 0; i < count; ++i) files.push_back(found[i * found.size() / count]);
    }
    return files;
}

void read_by_kernel(const std::string& file) {
    STEPControl_Reader reader;
    reader.ReadFile(file.c_str());
    reader.TransferRoots();
    reader.OneShape();
}

class Table {
  public:
    void add(const std::string& file) {
        Healed healed;
        std::string refused;
        const auto ours = [&] {
            try {
                healed = load(file).healed();
            } catch (const LoadError&) {
                refused = ", refused: no solid";
            }
        };
        const double our_time = benchmark::fastest(ours, budget, most);
        const double peer_time = benchmark::fastest([&] { read_by_kernel(file); }, budget, most);
        const std::string name = std::filesystem::path(file).filename().string();
        std::printf("| %.48s%s | %d | %d | %d | %.1f | %.1f | %.3f |\n", name.c_str(),
                    refused.c_str(), healed.faces, healed.faces_alone, healed.shapes_in_full,
                    our_time, peer_time, our_time / peer_time);
        std::fflush(stdout);
        ratios_.add(our_time / peer_time);
        ++files_;
        files_in_full_ += healed.shapes_in_full > 0 || !refused.empty();
        files_with_healed_faces_ += healed.faces_alone > 0;
        faces_ += healed.faces;
        faces_alone_ += healed.faces_alone;
    }

    void finish() const {
        ratios_.print("the kernel's reader");
        std::printf(
            "Of %d files %d were healed in full and %d in single faces; of %d faces %d alone.\n",
            files_, files_in_full_, files_with_healed_faces_, faces_, faces_alone_);
    }

  private:
    static constexpr double budget = 100.0;  ///< ms
    static constexpr int most = 5;
    benchmark::Ratios ratios_;
    int files_ = 0, files_in_full_ = 0, files_with_healed_faces_ = 0;
    int faces_ = 0, faces_alone_ = 0;
};

}  // namespace

int main(int count, char** arguments) {
    Message::DefaultMessenger()->ChangePrinters().Clear();
    std::vector<std::string> files(arguments + 1, arguments + count);
    if (files.empty()) files = standard_files();
    std::printf(
        "| model | faces | healed alone | shapes healed in full | ours, ms | kernel, ms | ratio |\n"
        "| --- | ---: | ---: | ---: | ---: | ---: | ---: |\n");
    Table table;
    for (const std::string& file : files) table.add(file);
    table.finish();
}
