#include "core/cli/files.hpp"

#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <system_error>

namespace hangtime::cli {

namespace {

namespace fs = std::filesystem;

constexpr std::size_t most_bytes = 8 << 20;

struct Closer {
    void operator()(std::FILE* file) const {
        if (file != stdin) std::fclose(file);
    }
};
using File = std::unique_ptr<std::FILE, Closer>;

}  // namespace

Result<std::string> read_file(const std::string& path) {
    const std::string accepted = "a file that can be read, or - for standard input";
    std::error_code error;
    if (path != "-" && fs::is_directory(path, error)) return Error{"", "is a folder", accepted};
    const File file(path == "-" ? stdin : std::fopen(path.c_str(), "rb"));
    if (!file) return Error{"", "cannot be opened", accepted};
    std::string out;
    char buffer[16384];
    for (;;) {
        const std::size_t got = std::fread(buffer, 1, sizeof buffer, file.get());
        out.append(buffer, got);
        if (out.size() > most_bytes) return Error{"", "is longer than 8 MB", "a file of this project"};
        if (got == 0) break;
    }
    if (std::ferror(file.get())) return Error{"", "cannot be read", accepted};
    return out;
}

Result<Done> write_file(const std::string& path, const std::string& content) {
    const std::string accepted = "a place where a file can be written";
    const std::string beside = path + ".part";
    const auto fail = [&](std::string problem) {
        std::remove(beside.c_str());
        return Error{"", std::move(problem), accepted};
    };
    std::FILE* file = std::fopen(beside.c_str(), "wb");
    if (!file) return Error{"", "cannot be written", accepted};
    const bool written = std::fwrite(content.data(), 1, content.size(), file) == content.size();
    const bool flushed = std::fclose(file) == 0;
    if (!written || !flushed) return fail("could not be written to its end");
    std::error_code error;
    fs::rename(beside, path, error);
    if (error) return fail("cannot be put in place: " + error.message());
    return Done{};
}

Result<std::vector<std::string>> names_in(const std::string& folder, const std::string& ending) {
    std::vector<std::string> out;
    std::error_code error;
    for (fs::directory_iterator at(folder, error), end; !error && at != end; at.increment(error))
        if (at->path().extension().string() == ending) out.push_back(at->path().stem().string());
    if (error) return Error{"", "cannot be opened", "a folder that can be read"};
    if (out.empty()) return Error{"", "has no file that ends in " + ending, "a folder with some"};
    std::sort(out.begin(), out.end());
    return out;
}

std::string folder_of(const std::string& path) {
    const std::string folder = fs::path(path).parent_path().string();
    return folder.empty() ? "." : folder;
}

Result<std::string> find_in(const std::vector<std::string>& folders, const std::string& name) {
    std::string looked;
    for (const std::string& folder : folders) {
        const std::string path = (fs::path(folder) / name).string();
        std::error_code error;
        if (fs::is_regular_file(path, error)) return path;
        looked += (looked.empty() ? "" : ", ") + folder;
    }
    return Error{"protocol", "there is no " + name + " in " + looked,
                 "--protocols FOLDER that holds it, or --protocol FILE"};
}

}  // namespace hangtime::cli
