// Compression of recordings by Zstandard (RFC 8878), where the system's build has it.
#pragma once

#include <functional>
#include <memory>
#include <span>
#include <string_view>

#include "sim/base/result.h"
#include "sim/record/byte_source.h"

namespace understudy {

// The first bytes of a Zstandard frame (RFC 8878, 3.1.1).
inline constexpr std::string_view kZstdMagic("\x28\xb5\x2f\xfd", 4);

// Thread: one at a time.
class Packer {
 public:
  enum class Upto {
    kWhatFits,  // packs on; some of it may stay inside
    kFlushed,   // all that came so far can be unpacked
    kEnded,
  };
  using Put = std::function<Result<Done>(std::span<const char>)>;

  // Errors: kUnusable where this build cannot compress.
  static Result<std::unique_ptr<Packer>> make();
  virtual ~Packer() = default;

  // Gives packed bytes to `put`. Errors: those of `put`, and the library's.
  virtual Result<Done> pack(std::span<const char> text, Upto upto, const Put& put) = 0;
};

// The text of a packed source. Errors: kUnusable where this build cannot decompress.
Result<std::unique_ptr<ByteSource>> unpacked(std::unique_ptr<ByteSource> packed);

}  // namespace understudy
