// Feeds streams to the splitter. Input: one byte that picks a framing, one that picks how the rest
// is cut into chunks, then the stream. Chunks must not matter, memory is bounded, and every line
// stands where it says.
#include <string>
#include <vector>

#include "protocol/splitter.h"
#include "sim/base/check.h"
#include "tests/fuzz/fuzz_one.h"

namespace understudy {
namespace {

using namespace understudy::protocol;

Framing framing_of(std::uint8_t pick) {
  Framing framing;
  switch (pick % 8) {
    case 0:
      break;
    case 1:
      framing.accepts = {"\r\n"};
      break;
    case 2:
      framing.ends = "\r\n";
      break;
    case 3:
      framing.ends = "\r";
      framing.accepts = {"\r\n", "\n"};
      break;
    case 4:
      framing.starts = "<";
      framing.ends = ">";
      break;
    case 5:
      framing.starts = "<<";
      framing.ends = ">";
      framing.accepts = {">\r\n", "\n"};
      break;
    case 6:
      framing.starts = "aab";
      framing.ends = "aac";
      break;
    default:
      framing.ends = "";
      break;
  }
  framing.longest = 1 + pick / 8;
  return framing;
}

struct Cut {
  LineKind kind;
  std::string text;
  std::uint64_t first_byte;
  std::uint64_t last_byte;

  bool operator==(const Cut&) const = default;
};

void check_places(const std::vector<Cut>& cuts, const Framing& framing, std::string_view stream) {
  std::uint64_t next = 0;
  for (const Cut& cut : cuts) {
    CHECK(cut.first_byte >= next && cut.last_byte >= cut.first_byte, "lines overlap");
    CHECK(cut.last_byte < stream.size(), "a line ends behind the stream");
    CHECK(cut.text.size() <= framing.longest, "a line is too long");
    next = cut.last_byte + 1;
    const std::string_view raw = stream.substr(cut.first_byte, next - cut.first_byte);
    if (cut.kind == LineKind::kWhole) {
      CHECK(raw.starts_with(framing.starts + cut.text), "a line does not stand where it says");
    }
  }
}

}  // namespace

void fuzz_one(std::span<const std::uint8_t> input) {
  if (input.size() < 2) return;
  const Framing framing = framing_of(input[0]);
  CHECK(!find_fault_in_framing(framing), "the framings above are sound");
  const std::size_t step = 1 + input[1] % 31;
  const std::string_view stream(reinterpret_cast<const char*>(input.data()) + 2, input.size() - 2);

  std::vector<Cut> cuts[2];
  Splitter splitters[2] = {Splitter(framing), Splitter(framing)};
  for (int way = 0; way < 2; ++way) {
    std::string_view rest = stream;
    while (!rest.empty()) {
      // The chunk is a copy, so that a view kept into an old one is noticed.
      const std::string chunk(rest.substr(0, way == 0 ? rest.size() : step));
      rest.remove_prefix(chunk.size());
      splitters[way].push(chunk, [&](const SplitLine& line) {
        cuts[way].push_back({line.kind, std::string(line.text), line.first_byte, line.last_byte});
      });
      CHECK(splitters[way].part().size() <= framing.longest, "the part kept is too long");
    }
  }
  CHECK(cuts[0] == cuts[1], "chunks matter");
  CHECK(splitters[0] == splitters[1], "chunks matter for what is kept");
  CHECK(splitters[0].counts().bytes == stream.size(), "bytes are miscounted");
  check_places(cuts[0], framing, stream);
}

}  // namespace understudy
