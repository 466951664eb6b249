/// Inputs that once broke keep the laws, and the corpus reads and writes the same.

#include <doctest/doctest.h>

#include <sstream>
#include <stdexcept>

#include "arrange/corpus.hpp"
#include "arrange/laws.hpp"
#include "arrange/shapes.hpp"

namespace planform::arrange::test {
namespace {

TEST_CASE("the corpus keeps the laws") {
    for (const CorpusCase& c : read_corpus_file()) {
        CAPTURE(c.name);
        CAPTURE(c.why);
        CHECK(broken_law(c.input, false) == "");
        for (const double angle : {0.1, 0.7853981633974483, 2.0})
            CHECK(broken_symmetry(c.input, angle, false) == "");
    }
}

TEST_CASE("an entry reads back as it was written") {
    for (const CorpusCase& c : read_corpus_file()) {
        std::istringstream text(corpus_entry(c.name, c.why, c.input));
        const std::vector<CorpusCase> again = read_corpus(text);
        REQUIRE(again.size() == 1);
        CHECK(again[0].name == c.name);
        CHECK(again[0].why == c.why);
        CHECK(corpus_entry(c.name, c.why, again[0].input) == corpus_entry(c.name, c.why, c.input));
    }
}

TEST_CASE("a damaged corpus is refused") {
    for (const char* text :
         {"case without_reason\nend\n", "# why\ncase no_end\n", "# why\ncase a\nbow 1 2\nend\n",
          "# why\ncase a\nchain 0 1\nline 1 2 3\nend\n"}) {
        CAPTURE(text);
        std::istringstream stream(text);
        CHECK_THROWS_AS(read_corpus(stream), std::runtime_error);
    }
}

}  // namespace
}  // namespace planform::arrange::test
