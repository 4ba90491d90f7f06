// A line format: a template such as "{power},{bell}" compiled against a catalogue of fields. It
// makes lines from wire numbers and reads them back, strictly, and says what is wrong with a line.
// Cutting a stream into lines is splitter.h's work; telling formats apart is matcher.h's.
//
// The law that everything here keeps, for all wire numbers n in range and all lines s that encode
// makes: decode(encode(n)) = n and encode(decode(s)) = s. So a line decodes if and only if encode
// could have made it: no leading zeros, spaces or signs that encode does not write.
//
// The template (docs/line-format.md has the whole grammar):
//   {power}            the field, as short as possible          512   -3   0.53   DOWN
//   {stick.x}          a part of a control is a field of its own
//   {power:4}          exactly 4 bytes, zeros before the number  0512  -003
//   {power:4+}         at least 4 bytes                          0512  10240
//   {power:x} {power:X} {power:2x}   hexadecimal                 1ff   1FF   0c
//   {power:short}      decimals without zeros at their end       0.5 for 0.50, 1 for 1.00
//   {bits low first: a b c}  {bits high first: a b c:x}          fields of 0 and 1 as one number
//   {#sequence:3}      counts lines; wraps at what the width can show, else at 2^32
//   {#uptime_ms:8}     milliseconds since power-on; wraps likewise
//   {{ and }}          a brace
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "protocol/checks.h"
#include "protocol/field.h"
#include "protocol/framing.h"
#include "protocol/line_faults.h"
#include "protocol/line_items.h"
#include "protocol/outcome.h"

namespace understudy::protocol {

class SentenceWriter;

// What a line may carry beside the fields. encode reduces each by its wrap.
struct BuiltIns {
  std::uint64_t sequence = 0;
  std::uint64_t uptime_ms = 0;

  bool operator==(const BuiltIns&) const = default;
};

// Answer of decode.
struct Decoded {
  // Kind None when the line was read.
  LineFault fault;

  bool ok() const { return fault.kind == LineFaultKind::kNone; }
  explicit operator bool() const { return ok(); }
};

struct LineFormatOptions {
  // The template; at most kTemplateBytesMax bytes.
  std::string_view text;
  std::span<const Field> catalogue;
  std::optional<CheckSpec> check = std::nullopt;
  // compile() refuses a format some line of which would contain the framing's own markers or
  // be longer than framing.longest. The format keeps starts and ends for encode_framed.
  Framing framing = {};
};

// Where in a line one place of its template stands.
struct LinePlace {
  std::uint32_t first_byte = 0;
  std::uint32_t bytes = 0;
  std::int32_t field = kNoField;  // in the catalogue; none of bit masks and built-ins
  bool operator==(const LinePlace&) const = default;
};

// One control of an `each` format.
struct EachSubject {
  // What {#name} writes.
  std::string name = {};
  // What {#id} writes; {#id:2} gives it two digits. REQUIRES: >= 0
  std::int64_t id = 0;
  // The field that {#value} stands for; {#value.x} stands for field + ".x".
  std::string field = {};
};

inline constexpr std::size_t kTemplateBytesMax = 4096;

// A value without pointers into itself: copies freely, and copies are independent. Immutable once
// compiled. compile allocates; nothing else does. Nothing throws (other than out of memory in
// compile). Thread: any number may read one format at a time.
class LineFormat {
 public:
  // Makes and reads only the empty line; for arrays and members. compile refuses such a template.
  LineFormat() = default;

  // The compiled format, or what is wrong and where. A format with a line that could be read in
  // two ways is refused: after a number of varying width must come something that cannot begin
  // with a digit, and after a word something that cannot make it a longer word.
  static Outcome<LineFormat> compile(const LineFormatOptions& options);

  // One format for each subject, in their order; error.format_index tells whose it is.
  static Outcome<std::vector<LineFormat>> compile_each(const LineFormatOptions& options,
                                                       std::span<const EachSubject> subjects);

  // Writes text and check, without the markers, and returns how many bytes; 0 and nothing
  // useful in `out` when out.size() < line_bytes_max(), when values.size() < catalogue_fields(),
  // or when a carried value is out of its range.
  std::size_t encode(std::span<const std::int64_t> values, const BuiltIns& built_ins,
                     std::span<char> out) const;

  // The same between framing.starts and framing.ends. REQUIRES room for framed_bytes_max().
  std::size_t encode_framed(std::span<const std::int64_t> values, const BuiltIns& built_ins,
                            std::span<char> out) const;

  // Reads one line (without markers). Writes the carried fields into `values` and leaves the
  // others alone; after a fault, those carried may be half written. `built_ins`, if given,
  // gets those that the line carries. Time is linear in the line's length.
  Decoded decode(std::string_view line, std::span<std::int64_t> values,
                 BuiltIns* built_ins = nullptr) const;

  // The places of a line, in its order, as far as it can be read. For display; allocates.
  std::vector<LinePlace> places(std::string_view line) const;

  // Says a fault that decode found in this same line as one plain sentence, cut to fit `out`,
  // not terminated; returns its bytes. Bytes that are no printable ASCII are shown as \xNN.
  //   heater (place 2), column 5: found "x", expected a whole number from 0 to 1023
  //   column 4: found ",0,25", expected the end of the line; 4 numbers for 2 places: looks like
  //   decimals written with a comma
  std::size_t write_sentence(const LineFault& fault, std::string_view line,
                             std::span<char> out) const;
  // The same where allocation does not matter.
  std::string sentence(const LineFault& fault, std::string_view line) const;

  // Bytes of text and check, without markers.
  std::size_t line_bytes_max() const { return line_bytes_max_; }
  std::size_t line_bytes_min() const { return line_bytes_min_; }
  // With markers.
  std::size_t framed_bytes_max() const { return line_bytes_max_ + starts_.size() + ends_.size(); }

  // How many fields the catalogue had, and which of them this format carries, by index, in the
  // order of the template (fields in bit masks too).
  std::size_t catalogue_fields() const { return catalogue_fields_; }
  std::span<const std::uint16_t> fields() const { return fields_; }
  bool carries(std::size_t field) const;

  bool has_check() const { return check_.present; }
  bool has_sequence() const { return has_sequence_; }
  bool has_uptime() const { return has_uptime_; }
  // The template's text as it was handed in (for `each`, with the subject put in).
  const std::string& text() const { return text_; }
  const std::string& starts() const { return starts_; }
  const std::string& ends() const { return ends_; }

 private:
  friend class FormatBuilder;
  friend class LineAutomaton;
  friend class LineReader;
  friend class Matcher;

  // As decode, without the guess why, which costs a second look at the line, and without storing
  // where `values` is null.
  LineFault read(std::string_view line, std::int64_t* values, BuiltIns* built_ins) const;
  char* put_place(char* at, const LineItem& item, const std::int64_t* values,
                  const BuiltIns& built_ins) const;
  char* put_check(char* at, const char* begin) const;
  std::size_t number_places() const;
  bool runs_together(const LineFault& fault, std::string_view line) const;
  void write_wanted(SentenceWriter& out, const LineFault& fault) const;
  void write_place(SentenceWriter& out, const LineFault& fault) const;
  LineHint guess_why_text(const LineFault& fault, std::string_view line) const;
  LineHint guess_why_value(const LineFault& fault, std::string_view line) const;
  LineHint guess_why(const LineFault& fault, std::string_view line) const;
  std::string_view text_before(const LineItem& item) const {
    return std::string_view(literals_).substr(item.text_at, item.text_bytes);
  }

  std::string text_;
  std::string starts_;
  std::string ends_;
  std::vector<LineItem> items_;
  std::string literals_;             // all fixed text, cut up by the items
  std::vector<std::string> words_;   // all words, cut up by the items
  std::vector<std::uint16_t> bits_;  // all fields of bit masks, lowest bit first
  std::vector<std::string> names_;   // one per item: what its place is called
  std::vector<std::uint16_t> fields_;
  CheckItem check_;
  std::size_t catalogue_fields_ = 0;
  std::size_t line_bytes_max_ = 0;
  std::size_t line_bytes_min_ = 0;
  bool has_sequence_ = false;
  bool has_uptime_ = false;
};

}  // namespace understudy::protocol
