#pragma once

/// Inputs as plain text: the corpus of what once broke, and how a failing random case prints
/// itself.
///
///     # why the case is there
///     case NAME
///     chain OPERAND WEIGHT
///     line X Y X Y
///     arc CENTER_X CENTER_Y RADIUS START_ANGLE SWEEP
///     ellipse CENTER_X CENTER_Y MAJOR_X MAJOR_Y RATIO START_ANGLE SWEEP
///     spline DEGREE POLES (X Y)... (KNOT)...
///     end

#include <iosfwd>
#include <string>
#include <vector>

#include "arrange/arrange.hpp"

namespace planform::arrange::test {

struct CorpusCase {
    std::string name;
    std::string why;
    Input input;
};

/// Throws std::runtime_error with the line if the text is not as above or a case has no reason.
std::vector<CorpusCase> read_corpus(std::istream& text);
/// The cases of tests/data/arrange_corpus.txt; throws std::runtime_error if there are none.
std::vector<CorpusCase> read_corpus_file();

/// The input as a case; digits enough to read the same numbers back.
std::string corpus_entry(const std::string& name, const std::string& why, const Input& input);

}  // namespace planform::arrange::test
