// One format per control from one template: puts a subject in for {#name}, {#id} and {#value}.
#include "protocol/format_builder.h"

namespace understudy::protocol {
namespace {

std::string with_doubled_braces(const std::string& text) {
  std::string doubled;
  for (const char byte : text) {
    doubled += byte;
    if (byte == '{' || byte == '}') doubled += byte;
  }
  return doubled;
}

std::string style_text(const NumberStyle& style) {
  std::string text;
  if (style.width > 0) text += std::to_string(style.width);
  if (style.width > 0 && !style.width_exact) text += '+';
  if (style.notation == Notation::kHexLower) text += 'x';
  if (style.notation == Notation::kHexUpper) text += 'X';
  if (style.short_decimals) text += "short";
  return text.empty() ? text : ":" + text;
}

void make_text(TemplateNode& node, std::string text) {
  node.kind = TemplateNode::Kind::kText;
  node.text = std::move(text);
  node.style = {};
}

std::optional<FormatError> put_id(TemplateNode& node, std::int64_t id) {
  const NumberStyle& style = node.style;
  std::string digits = std::to_string(id);
  const auto width = static_cast<std::size_t>(style.width);
  const bool decimal = style.notation == Notation::kDecimal && !style.short_decimals;
  if (!decimal || id < 0 || (style.width_exact && digits.size() > width)) {
    return FormatError{.column = node.column,
                       .found = "the id " + digits + " written as `{#id" + style_text(style) + "}`",
                       .expected = "a decimal width that it fits"};
  }
  if (digits.size() < width) digits.insert(0, width - digits.size(), '0');
  make_text(node, std::move(digits));
  return std::nullopt;
}

std::optional<FormatError> put_subject(TemplateNode& node, const EachSubject& subject) {
  if (node.text == "#name") {
    make_text(node, subject.name);
  } else if (node.text == "#id") {
    return put_id(node, subject.id);
  } else if (node.text == "#value" || node.text.starts_with("#value.")) {
    node.kind = TemplateNode::Kind::kField;
    node.text = subject.field + node.text.substr(std::string("#value").size());
  }
  return std::nullopt;
}

// The template as one would have written it for this subject alone.
std::string written(std::span<const TemplateNode> nodes) {
  std::string text;
  for (const TemplateNode& node : nodes) {
    if (node.kind == TemplateNode::Kind::kText) {
      text += with_doubled_braces(node.text);
      continue;
    }
    text += '{';
    if (node.kind == TemplateNode::Kind::kBits) {
      text += node.high_first ? "bits high first:" : "bits low first:";
      for (const std::string& bit : node.bits) text += " " + bit;
    } else {
      text += node.text;
    }
    text += style_text(node.style) + '}';
  }
  return text;
}

}  // namespace

Outcome<std::vector<LineFormat>> LineFormat::compile_each(const LineFormatOptions& options,
                                                          std::span<const EachSubject> subjects) {
  if (auto fault = find_fault_in_framing(options.framing)) return *fault;
  if (auto fault = find_fault_in_catalogue(options.catalogue)) return *fault;
  const auto nodes = parse_template(options.text);
  if (!nodes) return nodes.error();
  std::vector<LineFormat> formats;
  for (std::size_t index = 0; index < subjects.size(); ++index) {
    std::vector<TemplateNode> own = nodes.value();
    std::optional<FormatError> fault;
    for (TemplateNode& node : own) {
      if (node.kind != TemplateNode::Kind::kBuiltIn || fault) continue;
      fault = put_subject(node, subjects[index]);
    }
    if (!fault) {
      auto format = FormatBuilder(options).build(own, written(own));
      if (format) {
        formats.push_back(std::move(format).value());
        continue;
      }
      fault = format.error();
    }
    fault->format_index = fault->other_index = index;
    return *fault;
  }
  return formats;
}

}  // namespace understudy::protocol
