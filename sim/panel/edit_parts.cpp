// Each edit is a chain of the edits of edit.h and edit_lines.h, every one of which proves itself.
#include "sim/panel/edit_parts.h"

#include <algorithm>
#include <functional>
#include <set>

#include "sim/model/kinds.h"
#include "sim/panel/control_kinds.h"
#include "sim/panel/edit_items.h"
#include "sim/panel/edit_lines.h"
#include "sim/panel/key_table.h"
#include "sim/panel/output_kinds.h"
#include "sim/panel/panel_file.h"
#include "sim/panel/shared_readers.h"

namespace understudy {
namespace {

constexpr std::int64_t kCopyAsideUm = 10'000;

Error refused(const std::string& why) {
  return {ErrorCode::kUnusable, why};
}

Node tree_of(std::string_view text) {
  Result<Node> root = parse_tree(text, "file");
  return root.ok() ? std::move(root).value() : Node{};
}

const Node* find_table(const Node& root, const TableRef& table) {
  const Node* list = root.find(table.table);
  if (list == nullptr || list->kind != NodeKind::kList || table.index >= list->items.size())
    return nullptr;
  return &list->items[table.index];
}

std::string text_at(const Node& table, std::string_view key) {
  const Node* node = table.find(key);
  return node == nullptr || node->kind != NodeKind::kText ? "" : node->text;
}

const std::vector<Node>& items_of(const Node& root, std::string_view list) {
  static const std::vector<Node> none;
  const Node* node = root.find(list);
  return node == nullptr || node->kind != NodeKind::kList ? none : node->items;
}

std::set<std::string> names_in_file(const Node& root) {
  std::set<std::string> names;
  for (const char* list : {"control", "output"})
    for (const Node& item : items_of(root, list)) names.insert(text_at(item, "name"));
  return names;
}

// "doors press" and "stick.x moves": the part that is spoken of.
bool answer_speaks_of(const std::string& text, const std::string& name) {
  return text.starts_with(name) &&
         (text.size() == name.size() || text[name.size()] == ' ' || text[name.size()] == '.');
}

// Does one edit after the other to the same text, until one is refused.
class Chain {
 public:
  explicit Chain(std::string_view text) : text_(std::string(text)) {}
  [[nodiscard]] bool ok() const { return text_.ok(); }
  [[nodiscard]] const std::string& text() const { return text_.value(); }
  // `edit`: Result<std::string>(const std::string& text)
  template <class Edit>
  Chain& then(const Edit& edit) {
    if (text_.ok()) text_ = edit(std::string(text_.value()));
    return *this;
  }
  [[nodiscard]] Result<std::string> result() { return std::move(text_); }

 private:
  Result<std::string> text_;
};

// The fields that carry a part of this kind: "{stick.x}", "{stick.y}".
std::vector<std::string> fields_of(const NewPart& part) {
  const auto alone =
      parse_panel("panel = \"x\"\n[[" + part.list + "]]\nname = " + quoted(part.name) +
                      "\nkind = " + quoted(part.kind) + "\n",
                  "part");
  std::vector<std::string> fields;
  if (!alone.ok()) return fields;
  const PanelDescription& panel = alone.value()->description;
  const auto parts = part.list == "control" ? line_parts(panel.controls.front())
                                            : line_parts(panel.outputs.front());
  for (const std::string_view one : parts) fields.push_back("{" + part_name(part.name, one) + "}");
  return fields;
}

// The part at the end of the first line of its direction; the text as it is where there is none.
Result<std::string> with_fields(const std::string& text, const NewPart& part) {
  const Node root = tree_of(text);
  const std::vector<Node>& lines = items_of(root, "line");
  for (std::size_t line = 0; line < lines.size(); ++line) {
    const bool to_panel = text_at(lines[line], "to") == "panel";
    if (to_panel != (part.list == "output")) continue;
    if (lines[line].find("each") != nullptr)
      return add_item(text, {{"line", 0}, {"", line}, {"each", 0}}, quoted(part.name));
    Chain chain(text);
    for (const std::string& field : fields_of(part)) {
      chain.then([&](const std::string& now) {
        const Node tree = tree_of(now);
        const std::string as_text = text_at(items_of(tree, "line")[line], "text");
        return add_field(now, line, template_fields(as_text).size(), field);
      });
    }
    return chain.result();
  }
  return text;
}

void rename_in_lines(Chain& chain, const std::string& from, const std::string& to) {
  const Node root = tree_of(chain.text());
  const std::vector<Node>& lines = items_of(root, "line");
  for (std::size_t line = 0; line < lines.size() && chain.ok(); ++line) {
    const std::string text = text_at(lines[line], "text");
    const std::string meant = template_renamed(text, from, to);
    if (meant != text) {
      chain.then([&](const std::string& now) {
        const std::string raw = raw_value(now, {"line", line}, "text");
        return replace_text(now, {"line", line}, "text", template_renamed(raw, from, to), meant);
      });
    }
    const Node* each = lines[line].find("each");
    for (std::size_t i = 0; each != nullptr && i < each->items.size(); ++i) {
      if (each->items[i].text != from) continue;
      chain.then([&](const std::string& now) {
        return set_item(now, {{"line", 0}, {"", line}, {"each", 0}, {"", i}}, quoted(to));
      });
    }
  }
}

void rename_in_answers(Chain& chain, const std::string& from, const std::string& to) {
  const Node root = tree_of(chain.text());
  const std::vector<Node>& answers = items_of(root, "answer");
  for (std::size_t i = 0; i < answers.size(); ++i) {
    for (const char* key : {"when", "expect"}) {
      const std::string text = text_at(answers[i], key);
      if (!answer_speaks_of(text, from)) continue;
      const std::string meant = to + text.substr(from.size());
      chain.then([&](const std::string& now) {
        std::string raw = raw_value(now, {"answer", i}, key);
        const std::size_t at = raw.find(from);
        if (at != std::string::npos) raw.replace(at, from.size(), to);
        return replace_text(now, {"answer", i}, key, raw, meant);
      });
    }
  }
}

// The fields of one line without a name; true where no field is left.
bool take_out_of_line(Chain& chain, std::size_t line, const std::string& text,
                      const std::string& name) {
  const std::vector<std::string> fields = template_fields(text);
  std::size_t left = fields.size();
  for (std::size_t at = fields.size(); at-- > 0;) {
    if (!field_speaks_of(fields[at], name)) continue;
    const std::string rest = field_without(fields[at], name);
    if (rest.empty()) --left;
    chain.then([&](const std::string& now) {
      return rest.empty() ? remove_field(now, line, at) : change_field(now, line, at, rest);
    });
  }
  return left == 0 && !fields.empty();
}

void take_out_of_lines(Chain& chain, const std::string& name) {
  const Node root = tree_of(chain.text());
  const std::vector<Node>& lines = items_of(root, "line");
  for (std::size_t line = lines.size(); line-- > 0 && chain.ok();) {
    bool empty = false;
    if (const Node* each = lines[line].find("each")) {
      const Node* ids = lines[line].find("ids");
      std::size_t left = each->items.size();
      for (std::size_t i = each->items.size(); i-- > 0;) {
        if (each->items[i].text != name) continue;
        --left;
        chain.then([&](const std::string& now) {
          return remove_item(now, {{"line", 0}, {"", line}, {"each", 0}, {"", i}});
        });
        if (ids == nullptr || ids->items.size() != each->items.size()) continue;
        chain.then([&](const std::string& now) {
          return remove_item(now, {{"line", 0}, {"", line}, {"ids", 0}, {"", i}});
        });
      }
      empty = left == 0;
    } else {
      empty = take_out_of_line(chain, line, text_at(lines[line], "text"), name);
    }
    if (!empty) continue;
    chain.then([&](const std::string& now) { return remove_block(now, {"line", line}); });
  }
}

void take_out_of_answers(Chain& chain, const std::string& name) {
  const Node root = tree_of(chain.text());
  const std::vector<Node>& answers = items_of(root, "answer");
  for (std::size_t i = answers.size(); i-- > 0;) {
    if (!answer_speaks_of(text_at(answers[i], "when"), name) &&
        !answer_speaks_of(text_at(answers[i], "expect"), name))
      continue;
    chain.then([&](const std::string& now) { return remove_block(now, {"answer", i}); });
  }
}

// Whether a key is one of a kind, by the kind's word.
using KindFilter = std::function<bool(const KeyText&)>;
template <class Rows>
Result<KindFilter> filter_among(const Rows& rows, std::string_view kind) {
  std::vector<std::string> words;
  for (const auto& row : rows) {
    words.emplace_back(kind_word(row.kind));
    if (words.back() != kind) continue;
    return KindFilter([which = row.kind](const KeyText& key) { return is_for_kind(key, which); });
  }
  return refused("found the kind " + quoted(kind) + ", expected " + either(words));
}

Result<KindFilter> kind_filter(bool control, std::string_view kind) {
  return control ? filter_among(control_kinds(), kind) : filter_among(output_kinds(), kind);
}

std::string at_mm(FacePoint point) {
  return "[" + write_millimetres(point.x_um) + ", " + write_millimetres(point.y_um) + "]";
}

std::int64_t millimetres(const Node& node) {
  return static_cast<std::int64_t>(node.decimal * 1000 + (node.decimal < 0 ? -0.5 : 0.5));
}

}  // namespace

std::string free_name(std::string_view text, std::string_view wanted) {
  const std::set<std::string> names = names_in_file(tree_of(text));
  std::string name(wanted);
  if (!names.contains(name)) return name;
  // "lamp_1" goes on with lamp_2, "bell" with bell_2.
  const std::size_t bar = name.rfind('_');
  if (bar != std::string::npos && bar + 1 < name.size() &&
      name.find_first_not_of("0123456789", bar + 1) == std::string::npos)
    name.resize(bar);
  for (int n = 2;; ++n) {
    std::string numbered = name + "_" + std::to_string(n);
    if (!names.contains(numbered)) return numbered;
  }
}

Result<std::string> add_part(std::string_view text, const NewPart& part, const ReadBeside& beside) {
  if (!is_name(part.name))
    return refused("found " + quoted(part.name) + ", expected " + std::string(kNameType));
  if (names_in_file(tree_of(text)).contains(part.name))
    return refused("there is a control or output called " + quoted(part.name) + " already");
  const Result<std::string> with_block =
      add_block(text, part.list, {{"name", quoted(part.name)}, {"kind", quoted(part.kind)}});
  if (!with_block.ok()) return with_block;
  if (part.into_line) {
    Result<std::string> whole = with_fields(with_block.value(), part);
    if (whole.ok() && check_edit(text, whole.value(), "panel", beside).ok()) return whole;
  }
  const Result<Done> right = check_edit(text, with_block.value(), "panel", beside);
  if (!right.ok()) return right.error();
  return with_block;
}

Result<std::string> remove_part(std::string_view text, const TableRef& table) {
  const std::string name = name_in(text, table);
  Chain chain(text);
  if (!name.empty()) {
    take_out_of_lines(chain, name);
    if (chain.ok()) take_out_of_answers(chain, name);
  }
  chain.then([&](const std::string& now) { return remove_block(now, table); });
  return chain.result();
}

Result<std::string> duplicate_part(std::string_view text, const TableRef& table) {
  const std::string name = free_name(text, name_in(text, table));
  const Node root = tree_of(text);
  const Node* source = find_table(root, table);
  if (source == nullptr) return refused("there is no such part");
  const TableRef copy{table.table, table.index + 1};
  Chain chain(text);
  chain.then([&](const std::string& now) { return duplicate_block(now, table); });
  chain.then([&](const std::string& now) { return set_key(now, copy, "name", quoted(name)); });
  for (const char* key : {"pin", "pins", "cell", "keys", "gamepad"}) {
    if (source->find(key) == nullptr) continue;
    chain.then([&](const std::string& now) { return remove_key(now, copy, key); });
  }
  const Node* at = source->find("at_mm");
  if (at != nullptr && at->items.size() == 2) {
    const FacePoint beside{millimetres(at->items[0]) + kCopyAsideUm,
                           millimetres(at->items[1]) + kCopyAsideUm};
    chain.then([&](const std::string& now) { return move_part(now, copy, beside); });
  }
  return chain.result();
}

Result<std::string> rename_part(std::string_view text, const TableRef& table, std::string_view to) {
  const std::string name = name_in(text, table);
  if (name == to) return std::string(text);
  if (!is_name(to)) return refused("found " + quoted(to) + ", expected " + std::string(kNameType));
  if (names_in_file(tree_of(text)).contains(std::string(to)))
    return refused("there is a control or output called " + quoted(to) +
                   " already; choose another name");
  Chain chain(text);
  chain.then([&](const std::string& now) { return set_key(now, table, "name", quoted(to)); });
  if (!name.empty() && chain.ok()) rename_in_lines(chain, name, std::string(to));
  if (!name.empty() && chain.ok()) rename_in_answers(chain, name, std::string(to));
  return chain.result();
}

Result<std::string> move_part(std::string_view text, const TableRef& table, FacePoint to) {
  return set_key(text, table, "at_mm", at_mm(to));
}

Result<std::string> change_kind(std::string_view text, const TableRef& table, std::string_view kind,
                                const ReadBeside& beside) {
  const Node root = tree_of(text);
  const Node* source = find_table(root, table);
  if (source == nullptr) return refused("there is no such part");
  const auto fits = kind_filter(table.table == "control", kind);
  if (!fits.ok()) return fits.error();
  Chain chain(text);
  chain.then([&](const std::string& now) { return set_key(now, table, "kind", quoted(kind)); });
  const Section section = table.table == "control" ? Section::kControl : Section::kOutput;
  for (const KeyText& key : all_keys()) {
    if (key.section != section || source->find(key.name) == nullptr || fits.value()(key)) continue;
    chain.then([&](const std::string& now) { return remove_key(now, table, key.name); });
  }
  // What it sends or takes, its pins and keys may mean nothing at the new kind.
  for (const char* key : {"sends", "takes", "pins", "pin", "keys", "rest"}) {
    if (!chain.ok() || check_edit(text, chain.text(), "panel", beside).ok()) break;
    chain.then([&](const std::string& now) { return remove_key(now, table, key); });
  }
  return chain.result();
}

std::string name_in(std::string_view text, const TableRef& table) {
  const Node root = tree_of(text);
  const Node* node = find_table(root, table);
  return node == nullptr ? "" : text_at(*node, "name");
}

}  // namespace understudy
