#pragma once

/// Reading and writing files, for the command only.

#include "core/result.hpp"

#include <string>
#include <vector>

namespace hangtime::cli {

/// The whole of a file; "-" is standard input. Refuses what is longer than any file of ours can be.
Result<std::string> read_file(const std::string& path);

/// Writes beside the file first and puts it in place when all of it is written: never half a file.
Result<Done> write_file(const std::string& path, const std::string& content);

/// The names of a folder's files that end in `ending`, in order and without it; an error where there are none.
Result<std::vector<std::string>> names_in(const std::string& folder, const std::string& ending);

/// "a/b.json" -> "a"; "b.json" -> ".".
std::string folder_of(const std::string& path);

/// The first folder that holds `name`, or an error that names them all.
Result<std::string> find_in(const std::vector<std::string>& folders, const std::string& name);

}  // namespace hangtime::cli
