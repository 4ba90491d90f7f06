// The C interface: translates, and lets nothing be thrown out of it.
#include "protocol/understudy_protocol.h"

#include <algorithm>
#include <cstring>
#include <new>

#include "protocol/line_format.h"
#include "protocol/splitter.h"

namespace protocol = understudy::protocol;

struct understudy_format {
  protocol::LineFormat format;
};

struct understudy_splitter {
  protocol::Splitter splitter;
};

namespace {

std::string text_or(const char* text, const char* fallback) {
  return text ? text : fallback;
}

std::string_view view(const char* bytes, std::size_t size) {
  return size > 0 ? std::string_view(bytes, size) : std::string_view();
}

std::size_t put_message(std::string_view message, char* out, std::size_t out_size) {
  if (out == nullptr || out_size == 0) return 0;
  const std::size_t size = std::min(message.size(), out_size - 1);
  std::memcpy(out, message.data(), size);
  out[size] = '\0';
  return size;
}

protocol::Outcome<std::vector<protocol::Field>> make_catalogue(
    const understudy_format_options& options) {
  std::vector<protocol::Field> catalogue;
  for (std::size_t index = 0; index < options.field_count; ++index) {
    const understudy_field& field = options.fields[index];
    protocol::Field made{.name = text_or(field.name, ""),
                         .min = field.min,
                         .max = field.max,
                         .decimals = field.decimals};
    if (field.words != nullptr) {
      // A list of more words than a line format may have fields is a mistake in the range.
      const bool possible = field.min <= field.max && field.min >= -protocol::kWireNumberMax &&
                            field.max <= protocol::kWireNumberMax && field.max - field.min < 4096;
      if (!possible) {
        return protocol::FormatError{.found = "words for the range of `" + made.name + "`",
                                     .expected = "1 to 4096 states"};
      }
      made.words.assign(field.words, field.words + (field.max - field.min + 1));
    }
    catalogue.push_back(std::move(made));
  }
  return catalogue;
}

protocol::Outcome<std::optional<protocol::CheckSpec>> make_check(
    const understudy_format_options& options) {
  if (options.check_kind == nullptr) return std::optional<protocol::CheckSpec>();
  const auto kind = protocol::find_check(options.check_kind);
  if (!kind) {
    return protocol::FormatError{.found = "a check `" + std::string(options.check_kind) + "`",
                                 .expected = "xor, crc-8/maxim-dow, crc-16/..., crc-32"};
  }
  const std::string covers = text_or(options.check_covers, "text");
  if (covers != "text" && covers != "start and text") {
    return protocol::FormatError{.found = "a check that covers `" + covers + "`",
                                 .expected = "`text` or `start and text`"};
  }
  return std::optional<protocol::CheckSpec>(
      protocol::CheckSpec{.kind = *kind,
                          .covers = covers == "text" ? protocol::CheckCovers::kText
                                                     : protocol::CheckCovers::kStartAndText,
                          .as = text_or(options.check_as, "*{HEX}")});
}

protocol::Outcome<protocol::LineFormat> make_format(const understudy_format_options& options) {
  auto catalogue = make_catalogue(options);
  if (!catalogue) return catalogue.error();
  auto check = make_check(options);
  if (!check) return check.error();
  const std::string text = text_or(options.text, "");
  return protocol::LineFormat::compile(
      {.text = text,
       .catalogue = catalogue.value(),
       .check = check.value(),
       .framing = {.starts = text_or(options.starts, ""),
                   .ends = text_or(options.ends, "\n"),
                   .longest = options.longest > 0 ? options.longest : 255}});
}

protocol::LineFault from_c(const understudy_fault& fault) {
  protocol::LineFault made;
  made.kind = static_cast<protocol::LineFaultKind>(fault.kind);
  made.hint = static_cast<protocol::LineHint>(fault.hint);
  made.place = static_cast<std::uint16_t>(fault.place);
  made.field = fault.field;
  made.column = fault.column;
  made.found_bytes = fault.found_bytes;
  made.detail = fault.detail;
  return made;
}

understudy_fault to_c(const protocol::LineFault& fault) {
  return {static_cast<int>(fault.kind),
          static_cast<int>(fault.hint),
          fault.place,
          fault.field,
          fault.column,
          fault.found_bytes,
          fault.detail};
}

}  // namespace

int understudy_protocol_version(void) {
  return UNDERSTUDY_PROTOCOL_VERSION;
}

understudy_format* understudy_format_new(const understudy_format_options* options, char* message,
                                         size_t message_size) {
  try {
    auto format = make_format(*options);
    put_message(format ? "" : format.error().sentence(), message, message_size);
    return format ? new understudy_format{std::move(format).value()} : nullptr;
  } catch (const std::bad_alloc&) {
    put_message("out of memory", message, message_size);
    return nullptr;
  }
}

void understudy_format_free(understudy_format* format) {
  delete format;
}

size_t understudy_line_size_max(const understudy_format* format) {
  return format->format.framed_bytes_max();
}

size_t understudy_encode(const understudy_format* format, const int64_t* values, size_t value_count,
                         const understudy_built_ins* built_ins, char* out, size_t out_size) {
  protocol::BuiltIns made;
  if (built_ins != nullptr) made = {built_ins->sequence, built_ins->uptime_ms};
  return format->format.encode_framed({values, value_count}, made, {out, out_size});
}

int understudy_decode(const understudy_format* format, const char* line, size_t line_size,
                      int64_t* values, size_t value_count, understudy_built_ins* built_ins,
                      understudy_fault* fault) {
  protocol::BuiltIns read;
  if (built_ins != nullptr) read = {built_ins->sequence, built_ins->uptime_ms};
  const auto decoded = format->format.decode(view(line, line_size), {values, value_count}, &read);
  if (built_ins != nullptr) *built_ins = {read.sequence, read.uptime_ms};
  if (fault != nullptr) *fault = to_c(decoded.fault);
  return decoded.ok() ? 1 : 0;
}

size_t understudy_explain(const understudy_format* format, const understudy_fault* fault,
                          const char* line, size_t line_size, char* out, size_t out_size) {
  if (out == nullptr || out_size == 0) return 0;
  const std::size_t size =
      format->format.write_sentence(from_c(*fault), view(line, line_size), {out, out_size - 1});
  out[size] = '\0';
  return size;
}

understudy_splitter* understudy_splitter_new(const char* starts, const char* ends,
                                             const char* const* accepts, size_t longest) {
  try {
    protocol::Framing framing{.starts = text_or(starts, ""), .ends = text_or(ends, "\n")};
    for (; accepts != nullptr && *accepts != nullptr; ++accepts) {
      framing.accepts.emplace_back(*accepts);
    }
    if (longest > 0) framing.longest = longest;
    if (protocol::find_fault_in_framing(framing)) return nullptr;
    return new understudy_splitter{protocol::Splitter(framing)};
  } catch (const std::bad_alloc&) {
    return nullptr;
  }
}

void understudy_splitter_free(understudy_splitter* splitter) {
  delete splitter;
}

int understudy_splitter_take(understudy_splitter* splitter, const char* bytes, size_t size,
                             size_t* taken, understudy_line* line) {
  std::string_view rest = view(bytes, size);
  protocol::SplitLine found;
  const bool has_line = splitter->splitter.take(rest, found);
  *taken = size - rest.size();
  if (!has_line) return 0;
  *line = {static_cast<int>(found.kind), found.text.data(), found.text.size(), found.first_byte,
           found.last_byte};
  return 1;
}

int understudy_check(const char* kind, const char* bytes, size_t size, uint32_t* value) {
  const auto found = protocol::find_check(kind);
  if (!found) return 0;
  *value = protocol::compute_check(*found, view(bytes, size));
  return 1;
}
