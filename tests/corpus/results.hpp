#pragma once

/// A file that grows by a line a source, and what it says as a whole.

#include <filesystem>
#include <set>
#include <string>
#include <vector>

#include "child.hpp"

namespace corpus {

/// Appends one line (JSON) to the file and flushes it.
void append(const std::filesystem::path& file, const SourceResult& result);

/// All lines of the file; none if there is no file. A last line that was cut off is left out, and
/// taken off the file.
std::vector<SourceResult> read_results(const std::filesystem::path& file);

/// Markdown: counts, causes of refusals, every disagreement, crash and hang by name, the slowest.
std::string summary(const std::vector<SourceResult>& results, std::size_t sources,
                    const std::string& title);

}  // namespace corpus
