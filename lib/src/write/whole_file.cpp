#include <fcntl.h>
#include <unistd.h>

#include <atomic>
#include <cerrno>
#include <string>
#include <system_error>

#include "planform/error.hpp"
#include "planform/write.hpp"

namespace planform {

namespace {

/// Attempts at a temporary name that nobody else uses.
constexpr int attempts = 100;

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
            path_ = target.parent_path() / (".planform-" + std::to_string(::getpid()) + "-" +
                                            std::to_string(counter++) + ".tmp");
            descriptor_ = ::open(path_.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
            if (descriptor_ >= 0) return;
            if (errno != EEXIST) break;
        }
        refuse(target_, errno);
    }
    ~TemporaryFile() {
        if (descriptor_ >= 0) ::close(descriptor_);
        if (!renamed_) ::unlink(path_.c_str());
    }
    TemporaryFile(const TemporaryFile&) = delete;
    TemporaryFile& operator=(const TemporaryFile&) = delete;

    void write(std::string_view bytes) {
        while (!bytes.empty()) {
            const ssize_t written = ::write(descriptor_, bytes.data(), bytes.size());
            if (written < 0 && errno == EINTR) continue;
            if (written < 0) refuse(target_, errno);
            bytes.remove_prefix(static_cast<std::size_t>(written));
        }
    }

    void become_target() {
        const int closed = ::close(descriptor_);
        descriptor_ = -1;
        if (closed != 0) refuse(target_, errno);
        if (::rename(path_.c_str(), target_.c_str()) != 0) refuse(target_, errno);
        renamed_ = true;
    }

  private:
    std::filesystem::path target_;
    std::filesystem::path path_;
    int descriptor_ = -1;
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
