// Zstandard by libzstd's streaming interface: memory stays bounded by its window, whatever a file
// claims.
#include <zstd.h>

#include <string>
#include <vector>

#include "sim/record/packing.h"

namespace understudy {
namespace {

// Level 1 packs traffic about 6.6 times and level 3 no better, at twice the cost.
constexpr int kCompressionLevel = 1;
constexpr std::size_t kPackedBytes = 128 * 1024;

Error unusable(std::string text) {
  return {ErrorCode::kUnusable, std::move(text)};
}

ZSTD_EndDirective directive_of(Packer::Upto upto) {
  switch (upto) {
    case Packer::Upto::kWhatFits:
      return ZSTD_e_continue;
    case Packer::Upto::kFlushed:
      return ZSTD_e_flush;
    case Packer::Upto::kEnded:
      break;
  }
  return ZSTD_e_end;
}

class ZstdPacker final : public Packer {
 public:
  ZstdPacker() : context_(ZSTD_createCCtx()), room_(ZSTD_CStreamOutSize()) {
    ZSTD_CCtx_setParameter(context_, ZSTD_c_compressionLevel, kCompressionLevel);
    ZSTD_CCtx_setParameter(context_, ZSTD_c_checksumFlag, 1);
  }
  ~ZstdPacker() override { ZSTD_freeCCtx(context_); }
  ZstdPacker(const ZstdPacker&) = delete;
  ZstdPacker& operator=(const ZstdPacker&) = delete;

  Result<Done> pack(std::span<const char> text, Upto upto, const Put& put) override {
    const ZSTD_EndDirective directive = directive_of(upto);
    ZSTD_inBuffer in{text.data(), text.size(), 0};
    for (;;) {
      ZSTD_outBuffer out{room_.data(), room_.size(), 0};
      const std::size_t left = ZSTD_compressStream2(context_, &out, &in, directive);
      if (ZSTD_isError(left) != 0)
        return unusable(std::string("cannot compress: ") + ZSTD_getErrorName(left));
      const Result<Done> written = put({room_.data(), out.pos});
      if (!written.ok()) return written;
      if (directive == ZSTD_e_continue ? in.pos == in.size : left == 0) return Done{};
    }
  }

 private:
  ZSTD_CCtx* context_;
  std::vector<char> room_;
};

struct DecompressorCloser {
  void operator()(ZSTD_DCtx* context) const { ZSTD_freeDCtx(context); }
};

class ZstdSource : public ByteSource {
 public:
  explicit ZstdSource(std::unique_ptr<ByteSource> packed)
      : source_(std::move(packed)), context_(ZSTD_createDCtx()), packed_(kPackedBytes) {}

  Result<std::size_t> read(std::span<char> to) override {
    ZSTD_outBuffer out{to.data(), to.size(), 0};
    while (out.pos == 0) {
      if (in_.pos == in_.size && !more_inside_) {
        const Result<std::size_t> got = source_->read(packed_);
        if (!got.ok()) return got;
        if (got.value() == 0) return std::size_t{0};
        in_ = {packed_.data(), got.value(), 0};
      }
      const std::size_t left = ZSTD_decompressStream(context_.get(), &out, &in_);
      if (ZSTD_isError(left) != 0)
        return unusable(std::string("the compressed data is damaged: ") + ZSTD_getErrorName(left));
      inside_frame_ = left != 0;
      more_inside_ = out.pos == out.size;
    }
    return out.pos;
  }
  [[nodiscard]] bool torn() const override { return inside_frame_; }

 private:
  std::unique_ptr<ByteSource> source_;
  std::unique_ptr<ZSTD_DCtx, DecompressorCloser> context_;
  std::vector<char> packed_;
  ZSTD_inBuffer in_{nullptr, 0, 0};
  bool inside_frame_ = false;
  bool more_inside_ = false;  // the last call filled `to`: there may be more without more input
};

}  // namespace

Result<std::unique_ptr<Packer>> Packer::make() {
  return std::unique_ptr<Packer>(std::make_unique<ZstdPacker>());
}

Result<std::unique_ptr<ByteSource>> unpacked(std::unique_ptr<ByteSource> packed) {
  return std::unique_ptr<ByteSource>(std::make_unique<ZstdSource>(std::move(packed)));
}

}  // namespace understudy
