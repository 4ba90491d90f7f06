// Rows of the key table: sensors, which no hand moves; what they measure runs by itself.
#include <algorithm>
#include <array>

#include "sim/panel/control_kinds.h"
#include "sim/panel/readers.h"
#include "sim/panel/sensor_values.h"

namespace understudy {
namespace {

using C = ControlDescription;
constexpr auto kSensor = &C::sensor;
constexpr std::string_view kCourseWords = "constant|sine|walk|values";
constexpr std::int64_t kMillion = 1'000'000;
constexpr std::int64_t kDayNs = 86'400'000'000'000;
// What most modules with an amplifier or a divider show; common practice, no source.
constexpr std::int64_t kSourceMohm = 1'000'000;

bool is_number(const Node& node) {
  return node.is_number() && is_sensor_number(node.decimal);
}

bool is_range(const Node& node) {
  return node.kind == NodeKind::kList && node.items.size() == 2 && is_number(node.items[0]) &&
         is_number(node.items[1]) && node.items[0].decimal != node.items[1].decimal;
}

// Used when the values are read (finish); here it is only checked.
void check_range(const KeyText& key, const Node& node, C&, Mistakes& mistakes) {
  if (!is_range(node)) add_wrong(key, node, mistakes);
}

std::string write_range(const C& from) {
  return from.sensor.values_ppm.empty() ? "" : "[0, " + std::to_string(kMillion) + "]";
}

void check_values(const KeyText& key, const Node& node, C&, Mistakes& mistakes) {
  const bool list = node.kind == NodeKind::kList && !node.items.empty();
  const bool numbers = list && std::all_of(node.items.begin(), node.items.end(), is_number);
  if (!numbers) add_wrong(key, node, mistakes);
}

std::string write_values(const C& from) {
  return from.sensor.values_ppm.empty() ? "" : write_integers(from.sensor.values_ppm);
}

// lint: table
std::span<const KeyOf<C>> sensor_rows() {
  using S = Section;
  // clang-format off
  static const auto rows = std::to_array<KeyOf<C>>({
      word_row<kCourseWords, kSensor, &SensorPart::course>({.section = S::kControl,
          .name = "course", .fallback = "\"constant\"; \"values\" beside values or file",
          .meaning = "What a sensor measures over time: always the same, up and down in a sine, "
          "at random from step to step, or one value after the other.", .example = "\"sine\""}),
      quantity_row<Unit::kShare, kSensor, &SensorPart::level_ppm>({.section = S::kControl,
          .name = "level", .fallback = "\"50%\"", .meaning = "Where a constant sensor stays, the "
          "middle of its sine, or where its walk begins, of its whole range.",
          .example = "\"40 %\"", .most = kMillion}),
      quantity_row<Unit::kShare, kSensor, &SensorPart::swing_ppm>({.section = S::kControl,
          .name = "swing", .fallback = "\"25%\"", .meaning = "How far a sine goes to either side "
          "of its level.", .example = "\"10 %\"", .most = kMillion}),
      quantity_row<Unit::kTime, kSensor, &SensorPart::period>({.section = S::kControl,
          .name = "period", .fallback = "\"1 min\"", .meaning = "How long one round of a sine "
          "takes.", .example = "\"30 s\"", .least = 1'000'000, .most = kDayNs}),
      quantity_row<Unit::kShare, kSensor, &SensorPart::step_ppm>({.section = S::kControl,
          .name = "step", .fallback = "\"0.5%\"", .meaning = "How far a walk goes in each step, "
          "root mean square.", .example = "\"0.5 %\"", .most = kMillion}),
      quantity_row<Unit::kTime, kSensor, &SensorPart::every>({.section = S::kControl,
          .name = "every", .fallback = "\"1 s\"", .meaning = "The time between two steps of a "
          "walk, or between two values.", .example = "\"100 ms\"", .least = 1'000'000,
          .most = kDayNs}),
      {{.section = S::kControl, .name = "range", .type = "two different numbers such as [-20, 60]",
        .fallback = "the least and the most of the values", .meaning = "Which values stand for the "
        "low and the high end of a sensor's range; what lies beyond is held there.",
        .example = "[-20, 60]", .shape = ValueShape::kNumbers},
       check_range, write_range},
      {{.section = S::kControl, .name = "values",
        .type = "a list of numbers such as [18.5, 19, 21]", .fallback = "none",
        .meaning = "What a sensor measures, one after the other, over again at "
        "the end.", .example = "[18.5, 19, 21, 20]", .shape = ValueShape::kNumbers},
       check_values, write_values},
      {{.section = S::kControl, .name = "file", .type = "the name of a text file",
        .fallback = "none", .meaning = "A file beside the panel file with such values: one a line, "
        "or the last of each line's columns; a first line of words is passed over.",
        .example = "\"heat.csv\""},
       [](const KeyText& key, const Node& node, C& into, Mistakes& mistakes) {
         if (auto text = read_text(key, node, mistakes)) into.sensor.file = *std::move(text);
       },
       [](const C&) -> std::string { return ""; }},
  });
  // clang-format on
  return rows;
}

// Values that stand in the panel itself; those of a file are read by the loader (sensor_values.h).
void finish(const Node& table, C& into, Mistakes& mistakes) {
  const Node* values = table.find("values");
  const Node* range = table.find("range");
  const bool listed = values != nullptr || !into.sensor.file.empty();
  if (values != nullptr && !into.sensor.file.empty())
    return add_at(table, "file", "it beside values", "one of both", "", mistakes);
  if (listed && table.find("course") == nullptr) into.sensor.course = SensorCourse::kValues;
  if (!listed && into.sensor.course == SensorCourse::kValues) {
    return add_at(table, "course", "\"values\" without any", "values = [...] or file = \"NAME\"",
                  "", mistakes);
  }
  if (!listed && range != nullptr)
    return add_at(table, "range", "it without values", "values or file beside it", "", mistakes);
  if (values == nullptr || values->kind != NodeKind::kList) return;
  std::vector<double> numbers;
  for (const Node& item : values->items) numbers.push_back(item.decimal);
  take_sensor_values(table, numbers, "values", into, mistakes);
}

}  // namespace

ControlKindRow sensor_kind() {
  return {.kind = ControlKind::kSensor,
          .one = "a sensor",
          .many = "sensors",
          .meaning = "measures something by itself",
          .example =
              "[[control]]\nname = \"heat\"\nkind = \"sensor\"\npin = \"A3\"\n"
              "decimals = 1\nsends = [-20.0, 60.0]\ncourse = \"sine\"\nlevel = \"50 %\"\n"
              "swing = \"10 %\"\nperiod = \"2 min\"\nsource = \"1 kohm\"\n",
          .has = "pin|noise|source",
          .sends = {.type = "two numbers for the ends of its range, such as [-20, 60]"},
          .size = [](const C&) -> Footprint { return {.width_um = 20'000, .height_um = 15'000}; },
          .rows = sensor_rows,
          .pin_text = [](const C&, std::size_t) -> std::string { return "sensor"; },
          .begin = [](C& into) { into.pot.source_mohm = kSourceMohm; },
          .finish = finish,
          .complete = send_analogue_reading};
}

}  // namespace understudy
