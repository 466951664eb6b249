#include <doctest/doctest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

#include "planform/error.hpp"
#include "planform/write.hpp"
#include "write/sets.hpp"

namespace planform {
namespace {

namespace fs = std::filesystem;

/// A folder of the test's own, removed at its end.
class Folder {
  public:
    Folder() : path_(fs::temp_directory_path() / ("planform-test-" + std::to_string(::getpid()))) {
        fs::create_directories(path_);
    }
    ~Folder() { fs::remove_all(path_); }
    fs::path operator/(const std::string& name) const { return path_ / name; }
    long entries() const {
        return std::distance(fs::directory_iterator(path_), fs::directory_iterator());
    }

  private:
    fs::path path_;
};

std::string content_of(const fs::path& path) {
    std::ifstream stream(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
}

std::string message_of_writing(const fs::path& path) {
    try {
        write_whole_file(path, "content");
    } catch (const WriteError& error) {
        CHECK(error.kind() == ErrorKind::file_unwritable);
        return error.what();
    }
    return "";
}

TEST_CASE("a whole file replaces the old one and leaves nothing beside it") {
    const Folder folder;
    const std::string bytes("a\0b\r\n", 5);
    write_whole_file(folder / "plate.dxf", "old");
    write_whole_file(folder / "plate.dxf", bytes);
    CHECK(content_of(folder / "plate.dxf") == bytes);
    CHECK(folder.entries() == 1);
    const std::string large(3'000'000, 'x');
    write_whole_file(folder / "large", large);
    CHECK(content_of(folder / "large") == large);
}

TEST_CASE("what can't be written is named with its cause, and nothing is left behind") {
    const Folder folder;
    fs::create_directory(folder / "taken");
    std::ofstream(folder / "taken" / "inside") << "x";
    write_whole_file(folder / "file", "x");
    const long before = folder.entries();

    const std::string missing = message_of_writing(folder / "missing" / "plate.dxf");
    CHECK(missing.find("missing/plate.dxf") != std::string::npos);
    CHECK(missing.find("No such file or directory") != std::string::npos);
    CHECK(message_of_writing(folder / "taken").find("irectory") != std::string::npos);
    CHECK(message_of_writing(folder / "file" / "plate").find("Not a directory") !=
          std::string::npos);
    CHECK(message_of_writing(folder / std::string(300, 'x')).find("too long") != std::string::npos);
    CHECK(message_of_writing("").find("No such file") != std::string::npos);
    CHECK(folder.entries() == before);
}

TEST_CASE("all writers write the text they return") {
    const Folder folder;
    const ProfileSet set = testing::plate();
    write_dxf(set, folder / "a.dxf");
    write_svg(set, folder / "a.svg");
    write_json(set, folder / "a.json");
    CHECK(content_of(folder / "a.dxf") == dxf_text(set));
    CHECK(content_of(folder / "a.svg") == svg_text(set));
    CHECK(content_of(folder / "a.json") == json_text(set));
    CHECK(read_json(folder / "a.json").digest() == set.digest());
    CHECK(folder.entries() == 3);
}

TEST_CASE("a JSON file that can't be read says why") {
    const Folder folder;
    const auto kind_of_reading = [](const fs::path& path) {
        try {
            read_json(path);
        } catch (const Error& error) {
            CHECK(std::string(error.what()).find(path.string()) != std::string::npos);
            return error.kind();
        }
        return ErrorKind::kernel_failure;
    };
    write_whole_file(folder / "empty.json", "");
    write_whole_file(folder / "wrong.json", "{}");
    CHECK(kind_of_reading(folder / "missing.json") == ErrorKind::file_missing);
    CHECK(kind_of_reading(folder / "") == ErrorKind::file_unreadable);
    CHECK(kind_of_reading(folder / "empty.json") == ErrorKind::file_empty);
    CHECK(kind_of_reading(folder / "wrong.json") == ErrorKind::json_invalid);
}

}  // namespace
}  // namespace planform
