/// Names of other files in a STEP file, however they are written (ISO 10303-21, 6.3.3, from
/// memory).

#include "model/read/referred_files.hpp"

#include <doctest/doctest.h>

#include <fstream>
#include <string>

#include "model/support.hpp"
#include "planform/model.hpp"

using namespace planform;
using namespace planform::test;

namespace {

const std::string head = "ISO-10303-21;\nHEADER;\nFILE_NAME('tray.step');\nENDSEC;\nDATA;\n";
const std::string entity = "#1=DOCUMENT_FILE(";

void touch(const std::filesystem::path& path, const std::string& content = "rail") {
    std::ofstream(path) << content;
}

/// The name, if any, of the one file that is named by a text in a document's entity.
std::string named(const TemporaryFolder& folder, const std::string& text) {
    const auto files = model::referred_files(head + entity + text + ",$);\n", folder / "tray.step");
    REQUIRE(files.size() <= 1);
    return files.empty() ? "" : files[0].filename().string();
}

}  // namespace

TEST_CASE("names are read as texts are written") {
    const TemporaryFolder folder;
    for (const char* name : {"tray.step", "rail.stp", "a long name.STEP", "o'ne.stp", "rail.p21",
                             "kl\u00f6tz.stp", "\u6a39.stp"})
        touch(folder / name);
    CHECK(named(folder, "'rail.stp'") == "rail.stp");
    CHECK(named(folder, "'a long\n name.STEP'") == "a long name.STEP");
    CHECK(named(folder, "'a long\r\n name.STEP'") == "a long name.STEP");
    CHECK(named(folder, "'o''ne.stp'") == "o'ne.stp");
    CHECK(named(folder, "'rail.p21'") == "rail.p21");
    CHECK(named(folder, "'kl\\X2\\00F6\\X0\\tz.stp'") == "kl\u00f6tz.stp");
    CHECK(named(folder, "'kl\\X\\F6tz.stp'") == "kl\u00f6tz.stp");
    CHECK(named(folder, "'kl\\S\\vtz.stp'") == "kl\u00f6tz.stp");
    CHECK(named(folder, "'kl\u00f6tz.stp'") == "kl\u00f6tz.stp");
    CHECK(named(folder, "'\\X4\\00006A39\\X0\\.stp'") == "\u6a39.stp");
    CHECK(named(folder, "/* it's a comment */'rail.stp'") == "rail.stp");
    CHECK(named(folder, "'absent.stp','',' '") == "");
    CHECK(named(folder, "'tray.step'") == "");
    // No text, or not closed.
    for (const char* odd : {"/* 'rail.stp' */", "'rail.stp", "/*", "'\\X2\\00", "'\\", "'\\S\\"})
        CHECK(named(folder, odd) == "");
    // A file that names no documents is not looked at.
    CHECK(model::referred_files(head + "#1=PRODUCT('rail.stp');\n", folder / "tray.step").empty());
}

TEST_CASE("files that others name are followed, each once, also in a circle") {
    const TemporaryFolder folder;
    touch(folder / "tray.step", head + entity + "'rail.step','knob.step');\n");
    touch(folder / "rail.step", head + entity + "'tray.step','pin.step');\n");
    touch(folder / "knob.step");
    touch(folder / "pin.step", head + entity + "'rail.step');\n");
    CHECK(model_files(folder / "tray.step").size() == 4);
    CHECK_THROWS_AS(model_files(folder / "none.step"), LoadError);
}
