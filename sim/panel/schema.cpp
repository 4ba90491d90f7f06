// The key table as a JSON Schema (draft 2020-12), so that editors complete and check panel files.
#include <nlohmann/json.hpp>

#include "sim/panel/explain.h"
#include "sim/panel/key_table.h"

namespace understudy {
namespace {

using Json = nlohmann::ordered_json;

Json section_schema(Section section);

std::optional<Section> section_at(const std::string& path) {
  for (int i = 1; i < kSectionCount; ++i)
    if (section_path(static_cast<Section>(i)) == path) return static_cast<Section>(i);
  return std::nullopt;
}

Json list_of(Json items) {
  return {
      {"type",  "array"         },
      {"items", std::move(items)}
  };
}

Json pair_of(Json items) {
  Json list = list_of(std::move(items));
  list["minItems"] = 2;
  list["maxItems"] = 2;
  return list;
}

Json words_schema(const KeyText& key) {
  return {
      {"enum", words_of(key)}
  };
}

Json integer_schema(const KeyText& key) {
  Json schema = {
      {"type",    "integer"},
      {"minimum", key.least}
  };
  if (key.most != std::numeric_limits<std::int64_t>::max()) schema["maximum"] = key.most;
  return schema;
}

Json any_of(std::initializer_list<Json> schemas) {
  return {
      {"anyOf", Json(std::vector<Json>(schemas))}
  };
}

Json numbers_or_texts(const KeyText& key) {
  const Json numbers = pair_of({
      {"type", "number"}
  });
  Json texts = list_of({
      {"type",      "string"},
      {"minLength", 1       }
  });
  texts["minItems"] = 2;
  texts["uniqueItems"] = true;
  if (key.words.empty()) return any_of({numbers, texts});
  return any_of({numbers, texts, words_schema(key)});
}

Json table_schema(const KeyText& key) {
  const auto section = section_at(key.path());
  return section ? section_schema(*section)
                 : Json{
                       {"type", "object"}
  };
}

Json value_schema(const KeyText& key) {
  const Json text = {
      {"type", "string"}
  };
  switch (key.shape) {
    case ValueShape::kText:
    case ValueShape::kQuantity:
    case ValueShape::kQuantityOrWord:
      return text;
    case ValueShape::kInteger:
      return integer_schema(key);
    case ValueShape::kNumber:
      return {
          {"type",    "number"},
          {"minimum", 0       }
      };
    case ValueShape::kFlag:
      return {
          {"type", "boolean"}
      };
    case ValueShape::kWord:
      return words_schema(key);
    case ValueShape::kTexts:
      return list_of(text);
    case ValueShape::kIntegers:
      return list_of(integer_schema(key));
    case ValueShape::kNumbersOrTexts:
      return numbers_or_texts(key);
    case ValueShape::kPlace:
      return pair_of({
          {"type",    "number"},
          {"minimum", 0       }
      });
    case ValueShape::kPin:
      return any_of({
          text, {{"type", "integer"}, {"minimum", 0}}
      });
    case ValueShape::kPins:
      return list_of(any_of({
          text, {{"type", "integer"}, {"minimum", 0}}
      }));
    case ValueShape::kCell:
      return pair_of(integer_schema(key));
    case ValueShape::kNumbers: {
      Json numbers = list_of({
          {"type", "number"}
      });
      numbers["minItems"] = 1;
      return numbers;
    }
    case ValueShape::kIntegerOrText:
      return any_of({
          text, {{"type", "integer"}, {"minimum", 1}}
      });
    case ValueShape::kTwoQuantities:
      return pair_of(text);
    case ValueShape::kTable:
      return table_schema(key);
    case ValueShape::kWordOrTable:
      return any_of({words_schema(key), table_schema(key)});
    case ValueShape::kTables:
      return list_of(table_schema(key));
  }
  return {};
}

// "none: every control has one" in the default's place means that the key must be there.
bool is_needed(const KeyText& key) {
  return key.fallback.starts_with("none: every");
}

Json key_schema(const KeyText& key) {
  Json schema = value_schema(key);
  schema["description"] = std::string(key.meaning) + " Takes " + std::string(key.type) + ".";
  Json fallback = Json::parse(key.fallback, nullptr, false);
  if (!fallback.is_discarded()) schema["default"] = std::move(fallback);
  return schema;
}

Json section_schema(Section section) {
  Json properties = Json::object();
  Json needed = Json::array();
  for (const KeyText& key : all_keys()) {
    if (key.section != section) continue;
    properties[std::string(key.name)] = key_schema(key);
    if (is_needed(key)) needed.push_back(key.name);
  }
  Json schema = {
      {"type",                 "object"  },
      {"properties",           properties},
      {"additionalProperties", false     }
  };
  if (!needed.empty()) schema["required"] = needed;
  return schema;
}

}  // namespace

std::string schema_json() {
  Json schema = {
      {"$schema", "https://json-schema.org/draft/2020-12/schema"},
      {"title",   "Understudy panel file"                       }
  };
  schema.update(section_schema(Section::kTop));
  return schema.dump(2) + "\n";
}

}  // namespace understudy
