// The key table as text: complete, the same in the documentation, and helpful about unknown keys.
#include "sim/panel/explain.h"

#include <gtest/gtest.h>

#include <cstdio>
#include <nlohmann/json.hpp>

#include "protocol/checks.h"
#include "sim/model/kinds.h"
#include "sim/panel/control_kinds.h"
#include "sim/panel/key_table.h"
#include "sim/panel/output_kinds.h"
#include "tests/sim/panel/panel_text.h"
#include "tests/support/approved.h"

namespace understudy {
namespace {

std::string file_text(const std::string& path) {
  std::FILE* file = std::fopen(path.c_str(), "rb");
  if (file == nullptr) return "";
  std::string text(1'000'000, '\0');
  text.resize(std::fread(text.data(), 1, text.size(), file));
  std::fclose(file);
  return text;
}

TEST(PanelExplain, EveryKeyHasAMeaningATypeADefaultAndAnExample) {
  EXPECT_GT(all_keys().size(), 80U);
  for (const KeyText& key : all_keys()) {
    EXPECT_TRUE(key.meaning.ends_with(".")) << key.path();
    EXPECT_FALSE(key.type.empty()) << key.path();
    EXPECT_FALSE(key.fallback.empty()) << key.path();
    EXPECT_FALSE(key.example.empty()) << key.path();
    EXPECT_TRUE(explain_key(key.path()).ok()) << key.path();
  }
}

TEST(PanelExplain, TheTablesInTheDocumentationAreTheseKeys) {
  const std::string text = file_text(UNDERSTUDY_SOURCE_ROOT "/docs/panel-file.md");
  const std::string begin = "<!-- keys: written by understudy explain --markdown -->\n";
  const std::string end = "<!-- end of keys -->";
  const std::size_t from = text.find(begin);
  const std::size_t to = text.find(end);
  ASSERT_NE(from, std::string::npos);
  ASSERT_NE(to, std::string::npos);
  EXPECT_TRUE(text.substr(from + begin.size(), to - from - begin.size()) == keys_markdown())
      << "put what understudy explain --markdown writes between the marks of docs/panel-file.md";
}

TEST(PanelExplain, AKeyIsToldInFull) {
  const auto control = explain_key("control.sends");
  ASSERT_TRUE(control.ok());
  EXPECT_TRUE(is_approved("explain/control_sends.txt", control.value()));
  const auto wire = explain_key("wire");
  ASSERT_TRUE(wire.ok());
  EXPECT_TRUE(is_approved("explain/wire.txt", wire.value()));
  EXPECT_TRUE(is_approved("explain/all.txt", explain_all()));
}

TEST(PanelExplain, ANameThatSeveralTablesHaveTellsAllOfThem) {
  const auto kind = explain_key("kind");
  ASSERT_TRUE(kind.ok());
  for (const char* path : {"wire.kind\n", "control.kind\n", "output.kind\n", "line.check.kind\n"})
    EXPECT_NE(kind.value().find(path), std::string::npos) << path;
}

TEST(PanelExplain, AWordIsExplainedByTheKeysThatTakeIt) {
  const auto lamp = explain_key("lamp");
  ASSERT_TRUE(lamp.ok());
  EXPECT_TRUE(lamp.value().starts_with("\"lamp\" is a word for output.kind\n")) << lamp.value();
  EXPECT_NE(lamp.value().find("    resistor "), std::string::npos);
  const auto asked = explain_key("native usb");
  ASSERT_TRUE(asked.ok());
  EXPECT_TRUE(asked.value().starts_with("\"native usb\" is a word for wire.kind\n"));
  EXPECT_EQ(explain_key("swich").error().text, "there is no key \"swich\"; the nearest is switch");
}

TEST(PanelExplain, AnUnknownKeyIsToldWithTheNearest) {
  EXPECT_EQ(explain_key("manners.lop").error().text,
            "there is no key \"manners.lop\"; the nearest is manners.loop");
  EXPECT_EQ(explain_key("quite another thing").error().text,
            "there is no key \"quite another thing\"; understudy explain lists them");
}

TEST(PanelExplain, TheChecksOfLinesAreThoseOfTheProtocol) {
  std::vector<std::string> known;
  for (int i = 0; i < protocol::kCheckKindCount; ++i)
    known.emplace_back(protocol::check_name(static_cast<protocol::CheckKind>(i)));
  for (const KeyText& key : all_keys()) {
    if (key.path() == "line.check.kind") {
      EXPECT_EQ(words_of(key), known);
    }
  }
}

// The schema of the value at a path such as control.sends, through lists and choices.
const nlohmann::json* schema_at(const nlohmann::json& schema, std::string_view path) {
  const nlohmann::json* at = &schema;
  while (at != nullptr && !path.empty()) {
    if (at->contains("anyOf")) {
      for (const auto& choice : (*at)["anyOf"])
        if (choice.contains("properties")) at = &choice;
    }
    if (at->contains("items")) at = &(*at)["items"];
    const std::size_t dot = std::min(path.find('.'), path.size());
    const std::string name(path.substr(0, dot));
    if (!at->contains("properties") || !(*at)["properties"].contains(name)) return nullptr;
    at = &(*at)["properties"][name];
    path.remove_prefix(std::min(dot + 1, path.size()));
  }
  return at;
}

// `digits` is a kind and a key: both are told.
TEST(PanelExplain, EachKindIsToldByAWholeExample) {
  std::vector<std::string_view> kinds;
  for (const ControlKindRow& row : control_kinds()) kinds.push_back(kind_word(row.kind));
  for (const OutputKindRow& row : output_kinds()) kinds.push_back(kind_word(row.kind));
  EXPECT_EQ(kinds.size(), 12U);
  for (const std::string_view kind : kinds) {
    const auto text = explain_key(kind);
    ASSERT_TRUE(text.ok()) << kind;
    EXPECT_NE(text.value().find("kind = \"" + std::string(kind) + "\""), std::string::npos) << kind;
  }
  EXPECT_NE(explain_key("digits").value().find("output.digits"), std::string::npos);
}

TEST(PanelExplain, TheSchemaHasEveryKeyAndItsWords) {
  const nlohmann::json schema = nlohmann::json::parse(schema_json());
  EXPECT_EQ(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
  for (const KeyText& key : all_keys()) {
    const nlohmann::json* at = schema_at(schema, key.path());
    ASSERT_NE(at, nullptr) << key.path();
    EXPECT_TRUE((*at)["description"].get<std::string>().starts_with(key.meaning)) << key.path();
    if (key.shape == ValueShape::kWord) {
      EXPECT_EQ((*at)["enum"].get<std::vector<std::string>>(), words_of(key)) << key.path();
    }
  }
}

TEST(PanelExplain, TheEndOfAPathIsEnough) {
  EXPECT_EQ(explain_key("send.asked").value(), explain_key("line.send.asked").value());
  EXPECT_EQ(explain_key("bounce.mean").value(), explain_key("control.bounce.mean").value());
  EXPECT_FALSE(explain_key("end.asked").ok());
  EXPECT_FALSE(explain_key(".asked").ok());
}

}  // namespace
}  // namespace understudy
