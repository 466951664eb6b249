#include <atomic>
#include <cerrno>
#include <cstdint>
#include <cstdio>
#include <random>
#include <string>
#include <system_error>

#include "planform/error.hpp"
#include "planform/write.hpp"

namespace planform {

namespace {

/// Attempts at a temporary name that nobody else uses.
constexpr int attempts = 100;

/// For writing, and only if there is no such file (C11, which C++17 takes over); programs that are
/// started meanwhile don't get it where that can be said.
#ifdef __GLIBC__
constexpr const char* new_file = "wbxe";
#else
constexpr const char* new_file = "wbx";
#endif

/// What tells this process from others that write into the folder; a forked one may have the same,
/// and passes over the names that are taken.
std::uint32_t number_of_process() {
    static const std::uint32_t number = std::random_device()();
    return number;
}

[[noreturn]] void refuse(const std::filesystem::path& path, int cause) {
    throw WriteError(ErrorKind::file_unwritable, "can't write '" + path.string() + "': " +
                                                     std::generic_category().message(cause));
}

/// An open file beside the target under a name of its own, removed unless it takes the target's
/// name.
class TemporaryFile {
  public:
    explicit TemporaryFile(const std::filesystem::path& target) : target_(target) {
        static std::atomic<unsigned> counter{0};
        for (int attempt = 0; attempt < attempts; ++attempt) {
            path_ = target.parent_path() / (".planform-" + std::to_string(number_of_process()) +
                                            "-" + std::to_string(counter++) + ".tmp");
            file_ = std::fopen(path_.string().c_str(), new_file);
            if (file_ != nullptr) return;
            if (errno != EEXIST) break;
        }
        refuse(target_, errno);
    }
    ~TemporaryFile() {
        if (file_ != nullptr) std::fclose(file_);
        std::error_code ignored;
        if (!renamed_) std::filesystem::remove(path_, ignored);
    }
    TemporaryFile(const TemporaryFile&) = delete;
    TemporaryFile& operator=(const TemporaryFile&) = delete;

    void write(std::string_view bytes) {
        if (std::fwrite(bytes.data(), 1, bytes.size(), file_) != bytes.size())
            refuse(target_, errno);
    }

    void become_target() {
        const int closed = std::fclose(file_);
        file_ = nullptr;
        if (closed != 0) refuse(target_, errno);
        // Replaces a file that is there, on every system.
        std::error_code cause;
        std::filesystem::rename(path_, target_, cause);
        if (cause) refuse(target_, cause.value());
        renamed_ = true;
    }

  private:
    std::filesystem::path target_;
    std::filesystem::path path_;
    std::FILE* file_ = nullptr;
    bool renamed_ = false;
};

}  // namespace

void write_whole_file(const std::filesystem::path& path, std::string_view bytes) {
    if (!path.has_filename()) refuse(path, path.empty() ? ENOENT : EISDIR);
    TemporaryFile file(path);
    file.write(bytes);
    file.become_target();
}

}  // namespace planform
