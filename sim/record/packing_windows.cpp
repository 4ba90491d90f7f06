// The Windows build has no Zstandard; docs/decisions/0007-what-the-windows-program-leaves-out.md.
#include "sim/record/packing.h"

namespace understudy {

Result<std::unique_ptr<Packer>> Packer::make() {
  return Error{ErrorCode::kUnusable,
               "this build for Windows cannot compress; let the name end in .jsonl"};
}

Result<std::unique_ptr<ByteSource>> unpacked(std::unique_ptr<ByteSource>) {
  return Error{ErrorCode::kUnusable,
               "it is compressed, which this build for Windows cannot read; unpack it first, or "
               "read it under Linux"};
}

}  // namespace understudy
