#include <zlib.h>

#include <algorithm>
#include <limits>

#include "model/read/content.hpp"
#include "planform/error.hpp"

namespace planform::model {

namespace {

/// zlib's stream with its end taken care of.
class Inflater {
  public:
    explicit Inflater(std::string_view bytes) {
        stream_.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(bytes.data()));
        left_ = bytes.size();
        // 15: largest window; + 16: a gzip header is expected (zlib.h, inflateInit2).
        ready_ = inflateInit2(&stream_, 15 + 16) == Z_OK;
    }
    ~Inflater() {
        if (ready_) inflateEnd(&stream_);
    }
    Inflater(const Inflater&) = delete;
    Inflater& operator=(const Inflater&) = delete;

    bool ready() const { return ready_; }
    bool input_used_up() const { return left_ == 0 && stream_.avail_in == 0; }
    /// First byte that is not used yet, or 0 at the end.
    unsigned char next_byte() const { return input_used_up() ? 0 : *stream_.next_in; }
    void next_member() { inflateReset(&stream_); }

    /// Fills `block` as far as possible; returns zlib's status, `count` the bytes made.
    int fill(std::string& block, size_t& count) {
        if (stream_.avail_in == 0 && left_ > 0) {
            const size_t most = std::numeric_limits<uInt>::max();
            stream_.avail_in = static_cast<uInt>(std::min(left_, most));
            left_ -= stream_.avail_in;
        }
        stream_.next_out = reinterpret_cast<Bytef*>(block.data());
        stream_.avail_out = static_cast<uInt>(block.size());
        const int status = inflate(&stream_, Z_NO_FLUSH);
        count = block.size() - stream_.avail_out;
        return status;
    }

  private:
    z_stream stream_{};
    size_t left_ = 0;  ///< Bytes not yet handed to zlib, whose counter has 32 bits.
    bool ready_ = false;
};

[[noreturn]] void refuse_gzip(const std::string& source, const std::string& why) {
    throw LoadError(ErrorKind::file_damaged,
                    source + ": the gzip data " + why + "; copy or download the file again");
}

}  // namespace

std::string unpack_gzip(std::string_view bytes, const std::string& source, size_t limit) {
    Inflater inflater(bytes);
    if (!inflater.ready()) refuse_gzip(source, "can't be unpacked: zlib does not start");
    std::string result;
    std::string block(1 << 18, '\0');
    for (;;) {
        size_t count = 0;
        const int status = inflater.fill(block, count);
        result.append(block, 0, count);
        if (result.size() > limit) {
            refuse_gzip(source, "unpack to more than " + std::to_string(limit) +
                                    " bytes, which no model here may");
        }
        if (status == Z_STREAM_END) {
            // Further members are joined (RFC 1952, 2.2); padding after the last one is ignored.
            if (inflater.next_byte() != 0x1f) return result;
            inflater.next_member();
        } else if (status == Z_BUF_ERROR ||
                   (status == Z_OK && count < block.size() && inflater.input_used_up())) {
            refuse_gzip(source, "end before the packed file does (truncated)");
        } else if (status != Z_OK) {
            refuse_gzip(source, "are damaged: a check of the packed bytes fails");
        }
    }
}

}  // namespace planform::model
