#include <doctest/doctest.h>
#include <fcntl.h>
#include <unistd.h>

#include <random>

#include "model/support.hpp"

using namespace planform;
using namespace planform::test;

namespace {

/// Checks kind and that the message begins with the path and holds the given words.
void check_error(const std::filesystem::path& path, ErrorKind kind,
                 const std::vector<std::string>& words) {
    CAPTURE(path);
    const auto error = load_error(path);
    REQUIRE(error.has_value());
    CHECK(error->kind() == kind);
    const std::string message = error->what();
    CHECK(message.find(path.string() + ": ") == 0);
    for (const std::string& word : words) {
        CAPTURE(message);
        CHECK(message.find(word) != std::string::npos);
    }
    CHECK(message.find('\n') == std::string::npos);
}

std::string step_of_box() {
    const TemporaryFolder folder;
    write_step(box(1.0, 2.0, 3.0), folder / "a.step");
    return read_bytes(folder / "a.step");
}

/// What the process writes to standard output and standard error while this lives.
class OutputCapture {
  public:
    explicit OutputCapture(const std::filesystem::path& path) : path_(path) {
        std::fflush(nullptr);
        file_ = open(path.c_str(), O_CREAT | O_TRUNC | O_WRONLY, 0600);
        for (const int descriptor : {1, 2}) {
            saved_[descriptor - 1] = dup(descriptor);
            dup2(file_, descriptor);
        }
    }
    std::string finish() {
        std::fflush(nullptr);
        for (const int descriptor : {1, 2}) {
            dup2(saved_[descriptor - 1], descriptor);
            close(saved_[descriptor - 1]);
        }
        close(file_);
        return read_bytes(path_);
    }

  private:
    std::filesystem::path path_;
    int file_;
    int saved_[2];
};

}  // namespace

TEST_CASE("files that can't be read at all") {
    const TemporaryFolder folder;
    check_error(folder / "none.step", ErrorKind::file_missing, {"no such file", "check the path"});
    check_error(folder.path(), ErrorKind::file_unreadable, {"it is a folder", "name a file"});
    write_bytes(folder / "empty.step", "");
    check_error(folder / "empty.step", ErrorKind::file_empty, {"empty", "export the model again"});
    check_error(folder / "empty.step/below.step", ErrorKind::file_missing, {"no such file"});
    check_error(std::string(5000, 'x'), ErrorKind::file_unreadable, {"can't be read"});
    // Reading the first bytes of this file fails on Linux, even for root (proc(5)).
    check_error("/proc/self/mem", ErrorKind::file_unreadable, {"can't be read"});
    if (geteuid() != 0) {
        write_bytes(folder / "locked.step", step_of_box());
        std::filesystem::permissions(folder / "locked.step", std::filesystem::perms::none);
        check_error(folder / "locked.step", ErrorKind::file_unreadable, {"check its rights"});
    }
}

TEST_CASE("the content decides, not the suffix") {
    const TemporaryFolder folder;
    write_bytes(folder / "text.step", "Dear carpenter,\nplease cut the following.\n");
    check_error(folder / "text.step", ErrorKind::file_not_recognised,
                {"neither STEP (ISO 10303-21) nor BREP", "export the model as STEP"});
    write_bytes(folder / "blank.step", " \n\t ");
    check_error(folder / "blank.step", ErrorKind::file_not_recognised, {"neither STEP"});
    write_bytes(folder / "short.step", "I");
    check_error(folder / "short.step", ErrorKind::file_not_recognised, {"neither STEP"});
    write_bytes(folder / "zeros.brep", std::string(1000, '\0'));
    check_error(folder / "zeros.brep", ErrorKind::file_not_recognised, {"neither STEP"});

    write_bytes(folder / "step.txt", step_of_box());
    CHECK(load(folder / "step.txt").solids().size() == 1);
    write_bytes(folder / "brep.step", brep_text(box(1, 1, 1)));
    CHECK(load(folder / "brep.step").solids().size() == 1);
    write_bytes(folder / "marked.step", "\xEF\xBB\xBF\r\n  " + step_of_box());
    CHECK(load(folder / "marked.step").solids()[0].volume() == doctest::Approx(6.0));
}

TEST_CASE("a STEP file cut off anywhere is an error, never a part of a model") {
    const TemporaryFolder folder;
    const std::string whole = step_of_box();
    const size_t end = whole.rfind("END-ISO-10303-21");
    REQUIRE(end > 5000);
    for (size_t length = 40; length < end; length += 97) {
        CAPTURE(length);
        write_bytes(folder / "cut.step", std::string_view(whole).substr(0, length));
        check_error(folder / "cut.step", ErrorKind::file_damaged, {"STEP data are damaged"});
    }
}

TEST_CASE("a STEP file that lacks a piece in the middle is an error that names the instance") {
    const TemporaryFolder folder;
    const std::string whole = step_of_box();
    const auto damaged = [&](const std::string& old_part, const std::string& new_part,
                             const std::vector<std::string>& words) {
        write_bytes(folder / "damaged.step", replaced(whole, old_part, new_part));
        check_error(folder / "damaged.step", ErrorKind::file_damaged, words);
    };
    damaged("CARTESIAN_POINT('',(0.,0.,0.));", "CARTESIAN_POINT('',(0.,0.,0.);",
            {"instance #", "a bracket that is not closed"});
    damaged("CARTESIAN_POINT('',(0.,0.,0.));", "CARTESIAN_POINT('',0.,0.,0.));",
            {"instance #", "a bracket too many"});
    damaged("CARTESIAN_POINT('',(0.,0.,0.));\n", "CARTESIAN_POINT(('',",
            {"instance #", "not closed before the next one starts"});
    damaged("ADVANCED_FACE('',(#", "ADVANCED_FACE('',(#99999",
            {"instance #", "refers to #99999", "not in the file"});
    damaged("#11 = ", "#12 = ", {"instance #12 is defined twice"});
    damaged("ADVANCED_FACE(", "ADVANCED_FACE($,", {"ADVANCED_FACE"});
    damaged("PRODUCT('part'", "PRODUCT(part'", {"STEP data are damaged"});
}

TEST_CASE("a parameter curve that refers to no curve is found before the kernel falls over it") {
    const TemporaryFolder folder;
    const std::string text = step_of_box();
    const size_t definition = text.find("DEFINITIONAL_REPRESENTATION('',(#");
    REQUIRE(definition != std::string::npos);
    const size_t number = text.find('#', definition) + 1;
    const size_t past = text.find(')', number);
    const std::string origin = text.substr(0, text.find(" = CARTESIAN_POINT"));
    const std::string point = origin.substr(origin.rfind('#') + 1);
    write_bytes(folder / "a.step", text.substr(0, number) + point + text.substr(past));
    check_error(folder / "a.step", ErrorKind::file_damaged, {"PCURVE", "holds no curve"});
}

TEST_CASE("a STEP file without a solid") {
    const TemporaryFolder folder;
    const std::string whole = step_of_box();
    const size_t data = whole.find("DATA;") + 5, end = whole.rfind("ENDSEC;");
    write_bytes(folder / "bare.step", whole.substr(0, data) + "\n" + whole.substr(end));
    check_error(folder / "bare.step", ErrorKind::no_solid, {"no solid and no closed shell"});
}

TEST_CASE("damaged BREP data, text and binary, cut off anywhere") {
    const TemporaryFolder folder;
    for (const std::string& whole : {brep_text(box(1, 2, 3)), brep_binary(box(1, 2, 3))}) {
        const size_t step = whole.size() / 60;
        REQUIRE(step > 10);
        for (size_t length = 60; length + 4 < whole.size(); length += step) {
            CAPTURE(length);
            write_bytes(folder / "cut.brep", std::string_view(whole).substr(0, length));
            check_error(folder / "cut.brep", ErrorKind::file_damaged, {"again"});
        }
    }
}

TEST_CASE("BREP data with a wrong number inside give an error or a model, and nothing is printed") {
    const TemporaryFolder folder;
    const std::string whole = brep_text(box(1, 2, 3));
    std::mt19937 random(7);
    int errors = 0, models = 0;
    OutputCapture capture(folder / "output.txt");
    for (int i = 0; i < 60; ++i) {
        const size_t at = 60 + random() % (whole.size() - 100);
        write_bytes(folder / "damaged.brep", whole.substr(0, at) + whole.substr(at + 9));
        const auto error = load_error(folder / "damaged.brep");
        ++(error ? errors : models);
    }
    write_bytes(folder / "damaged.step", replaced(step_of_box(), "PLANE(", "PLAIN("));
    const bool step_failed = load_error(folder / "damaged.step").has_value();
    const std::string printed = capture.finish();
    CHECK(printed == "");
    CHECK(errors > 20);
    CHECK(errors + models == 60);
    CHECK(step_failed);
}
