#include <doctest/doctest.h>
#include <sys/stat.h>
#include <unistd.h>

#include <chrono>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <thread>
#include <vector>

#include "planform/planform.hpp"

using namespace planform;
namespace fs = std::filesystem;

namespace {

class Folder {
  public:
    Folder() {
        std::string name = (fs::temp_directory_path() / "planform-cache-XXXXXX").string();
        REQUIRE(::mkdtemp(name.data()));
        path = name;
        station = path / "station.step";
        write_demo_assembly(station);
        cache.folder = path / "cache";
    }
    ~Folder() { fs::remove_all(path); }

    std::vector<fs::path> entries() const {
        std::vector<fs::path> found;
        if (!fs::exists(cache.folder)) return found;
        for (const auto& entry : fs::directory_iterator(cache.folder)) {
            found.push_back(entry.path());
        }
        return found;
    }

    fs::path path;
    fs::path station;
    CacheOptions cache;
};

std::string bytes_of(const fs::path& path) {
    std::ifstream file(path, std::ios::binary);
    std::ostringstream bytes;
    bytes << file.rdbuf();
    return bytes.str();
}

/// All that a model says, digests of its solids' outlines included, to the last bit.
std::string described(const Model& model) {
    std::ostringstream text;
    text << std::hexfloat << model.unit() << "|" << model.source() << "|" << model.shape_count();
    for (const std::string& note : model.notes()) text << "|" << note;
    for (const Solid& solid : model.solids()) {
        text << "\n"
             << solid.name() << "|" << solid.part_name() << "|" << solid.part() << "|"
             << solid.shape_index() << "|" << solid.face_count() << "|" << solid.edge_count() << "|"
             << solid.placement().matrix();
        for (const std::string& name : solid.path()) text << "/" << name;
        for (const std::string& note : solid.notes()) text << "|" << note;
        for (const std::string& layer : solid.layers()) text << "|" << layer;
        if (const auto color = solid.color()) {
            text << "|" << (*color)[0] << " " << (*color)[1] << " " << (*color)[2];
        }
    }
    return text.str();
}

/// The outlines of the first three solids, to the last digit.
std::string outlines(const Model& model) {
    REQUIRE(model.solids().size() > 3);
    std::string text;
    for (size_t i = 0; i < 3; ++i) {
        text += json_text(silhouette({&model.solids()[i], 1}, Datum::xz()));
    }
    return text;
}

}  // namespace

TEST_CASE("a model from the cache is the one that was read") {
    const Folder folder;
    const Model read = load(folder.station);
    const Model first = load_cached(folder.station, folder.cache);
    REQUIRE(folder.entries().size() == 1);
    const Model second = load_cached(folder.station, folder.cache);
    CHECK(described(first) == described(read));
    CHECK(described(second) == described(read));
    CHECK(outlines(second) == outlines(first));
    REQUIRE(read.solids().size() > 10);
    for (size_t i = 0; i < read.solids().size(); ++i) {
        const double volume = read.solids()[i].volume();
        CHECK(second.solids()[i].volume() == doctest::Approx(volume).epsilon(1e-12));
        // The same area, whatever the last digits of directions.
        const ProfileSet one = silhouette({&read.solids()[i], 1}, Datum::xy());
        const ProfileSet other = silhouette({&second.solids()[i], 1}, Datum::xy());
        CHECK(other.area() == doctest::Approx(one.area()).epsilon(1e-12));
    }
}

TEST_CASE("options, bytes and no folder at all") {
    Folder folder;
    const std::string plain = outlines(load_cached(folder.station, folder.cache));
    const Model twice = load_cached(folder.station, folder.cache, {"", 2.0});
    CHECK(folder.entries().size() == 2);
    CHECK(twice.solids().front().volume() ==
          doctest::Approx(8.0 * load(folder.station).solids().front().volume()));
    load_cached(folder.station, folder.cache, {"inch", 1.0});
    CHECK(folder.entries().size() == 3);
    // Kept nowhere, the same model.
    CHECK(outlines(load_cached(folder.station, {})) == plain);
    // Another path, the same bytes: the entry serves, the model knows where it is from.
    const fs::path copy = folder.path / "copy.stp";
    fs::copy_file(folder.station, copy);
    CHECK(load_cached(copy, folder.cache).source() == copy.string());
    CHECK(folder.entries().size() == 3);
}

TEST_CASE("damaged, foreign and unusable entries cost time only") {
    Folder folder;
    const std::string good = outlines(load_cached(folder.station, folder.cache));
    REQUIRE(folder.entries().size() == 1);
    const fs::path entry = folder.entries().front();
    const std::string bytes = bytes_of(entry);
    std::vector<std::string> damages = {"", "planform", bytes.substr(0, bytes.size() / 2),
                                        bytes + "x", std::string(1000, '\0')};
    for (size_t place = 0; place < bytes.size(); place += bytes.size() / 5 + 1) {
        damages.push_back(bytes);
        damages.back()[place] ^= 0x10;
    }
    // That of another version, whole in itself.
    damages.push_back(bytes);
    damages.back().replace(damages.back().find("layout "), 8, "layout 0");
    for (const std::string& damaged : damages) {
        std::ofstream(entry, std::ios::binary) << damaged;
        CHECK(outlines(load_cached(folder.station, folder.cache)) == good);
        CHECK(bytes_of(entry) == bytes);  // mended
    }
    fs::remove(entry);
    fs::create_directory(entry);
    CHECK(outlines(load_cached(folder.station, folder.cache)) == good);
    // The folder is a file; it can't be made.
    std::ofstream(folder.path / "file") << "mine";
    CHECK(outlines(load_cached(folder.station, {folder.path / "file"})) == good);
    CHECK(outlines(load_cached(folder.station, {folder.path / "file" / "below"})) == good);
    CHECK(bytes_of(folder.path / "file") == "mine");
}

TEST_CASE("what was healed is kept with the model, and full healing has an entry of its own") {
    Folder folder;
    LoadOptions always;
    always.heal = Heal::always;
    for (int round = 0; round < 2; ++round) {  // read, then from the cache
        const Healed spared = load_cached(folder.station, folder.cache).healed();
        const Healed full = load_cached(folder.station, folder.cache, always).healed();
        CHECK(spared.shapes > 0);
        CHECK(spared.shapes_in_full == 0);
        CHECK(full.shapes_in_full == spared.shapes);
    }
    CHECK(folder.entries().size() == 2);
}

TEST_CASE("a read-only cache serves what it holds") {
    Folder folder;
    const std::string good = outlines(load_cached(folder.station, folder.cache));
    fs::permissions(folder.cache.folder, fs::perms::owner_read | fs::perms::owner_exec);
    CHECK(outlines(load_cached(folder.station, folder.cache)) == good);
    CHECK(outlines(load_cached(folder.station, folder.cache, {"mm", 1.0})).size() > 1000);
    fs::permissions(folder.cache.folder, fs::perms::owner_all);
    // Root may write all the same; nobody else has left anything.
    if (::geteuid() != 0) CHECK(folder.entries().size() == 1);
}

TEST_CASE("the cache stays below its limit, and the oldest go first") {
    Folder folder;
    load_cached(folder.station, folder.cache);
    const auto size = fs::file_size(folder.entries().front());
    const fs::path first = folder.entries().front();
    folder.cache.limit = 2 * size + size / 2;
    const auto now = fs::file_time_type::clock::now();
    load_cached(folder.station, folder.cache, {"", 2.0});
    for (const fs::path& entry : folder.entries()) {
        fs::last_write_time(entry, now - std::chrono::minutes(entry == first ? 10 : 20));
    }
    load_cached(folder.station, folder.cache, {"", 3.0});
    CHECK(folder.entries().size() == 2);
    CHECK(fs::exists(first));
    // Using the first makes it young again.
    load_cached(folder.station, folder.cache);
    for (const fs::path& entry : folder.entries()) {
        if (entry != first) fs::last_write_time(entry, now - std::chrono::minutes(5));
    }
    load_cached(folder.station, folder.cache, {"", 4.0});
    CHECK(folder.entries().size() == 2);
    CHECK(fs::exists(first));
    // What killed writers left goes after an hour; other files stay; too large a model isn't kept.
    const fs::path left = folder.cache.folder / ".planform-1-0.tmp";
    std::ofstream(left) << "half";
    fs::last_write_time(left, now - std::chrono::hours(2));
    std::ofstream(folder.cache.folder / "mine.txt") << "mine";
    load_cached(folder.station, folder.cache, {"", 5.0});
    CHECK(!fs::exists(left));
    CHECK(folder.entries().size() == 3);
    folder.cache.limit = size / 2;
    load_cached(folder.station, folder.cache, {"", 6.0});
    CHECK(folder.entries().size() == 3);
}

TEST_CASE("several at once on one cache") {
    Folder folder;
    const std::string good = outlines(load_cached(folder.station, {}));
    std::vector<std::string> found(4);
    for (const std::uint64_t limit : {std::uint64_t{1}, std::uint64_t{1} << 30}) {
        folder.cache.limit = limit;
        std::vector<std::thread> threads;
        for (std::string& result : found) {
            threads.emplace_back(
                [&] { result = outlines(load_cached(folder.station, folder.cache)); });
        }
        for (std::thread& thread : threads) thread.join();
        for (const std::string& result : found) CHECK(result == good);
    }
    CHECK(folder.entries().size() == 1);
}

TEST_CASE("errors are those of load") {
    Folder folder;
    CHECK_THROWS_AS(load_cached(folder.path / "absent.step", folder.cache), LoadError);
    std::ofstream(folder.path / "odd.step") << "odd";
    CHECK_THROWS_AS(load_cached(folder.path / "odd.step", folder.cache), LoadError);
    CHECK_THROWS_AS(load_cached(folder.station, folder.cache, {"ell", 1.0}), GeometryError);
    CHECK(folder.entries().empty());
}
