// `explain [KEY]`: every key of a panel file, from the one table of them in sim/panel.
#include "sim/panel/explain.h"

#include <cstdio>

#include "sim/app/verb.h"

namespace understudy {
namespace {

struct ExplainOptions {
  std::optional<std::string> key;
  bool schema = false;
  bool markdown = false;
};

int show(const std::string& text) {
  std::fputs(text.c_str(), stdout);
  return kStatusFine;
}

int explain(const ExplainOptions& options) {
  if (options.schema + options.markdown + options.key.has_value() > 1) {
    return fail("explain", {ErrorCode::kUnusable,
                            "KEY, --schema and --markdown are three different "
                            "answers; ask for one of them"});
  }
  if (options.schema) return show(schema_json());
  if (options.markdown) return show(keys_markdown());
  if (!options.key) return show(explain_all());
  const auto text = explain_key(*options.key);
  return text.ok() ? show(text.value()) : fail("explain", text.error());
}

VerbRun declare_explain(Arguments& arguments) {
  auto options = std::make_shared<ExplainOptions>();
  arguments.positional("[KEY]", options->key,
                       "a key such as manners.loop, or a table; all without");
  arguments.flag("--schema", options->schema, "a JSON Schema of panel files, for editors");
  arguments.flag("--markdown", options->markdown, "the tables of docs/panel-file.md");
  arguments.example("understudy explain control.sends");
  return [options] { return explain(*options); };
}

}  // namespace

constinit const Verb verb_explain{"explain", VerbGroup::kDescribe,
                                  "every key of a panel file: type, unit, default, example",
                                  declare_explain};

}  // namespace understudy
