// Puts the parts of a check together, and remarks on habits that surprise a game.
#include "sim/panel/check_report.h"

#include <algorithm>
#include <map>

namespace understudy {
namespace {

void check_face(const PanelDescription& panel, std::vector<Remark>& remarks) {
  const auto look = [&](const std::string& name, const Place& place) {
    if (place.x_um <= panel.width_um && place.y_um <= panel.height_um) return;
    remarks.push_back({Severity::kWarning, name, "lies beyond the edge of the face",
                       "move at_mm or enlarge face"});
  };
  for (const ControlDescription& control : panel.controls) look(control.name, control.place);
  for (const OutputDescription& output : panel.outputs) look(output.name, output.place);
}

void check_keys(const PanelDescription& panel, std::vector<Remark>& remarks) {
  std::map<std::string, std::string> user_of;
  for (const ControlDescription& control : panel.controls) {
    const HandKeys& keys = control.keys;
    for (const std::string& key :
         {keys.hold, keys.toggle, keys.more, keys.less, keys.up, keys.down, keys.gamepad}) {
      if (key.empty()) continue;
      const auto [at, fresh] = user_of.emplace(key, control.name);
      if (fresh) continue;
      remarks.push_back({Severity::kWarning, control.name,
                         "key " + key + " moves " + at->second + " as well", "take another key"});
    }
  }
}

// What is said of several parts in the same words is said once.
std::vector<Remark> merged(const std::vector<Remark>& remarks) {
  std::vector<Remark> once;
  for (const Remark& remark : remarks) {
    const auto same = std::find_if(once.begin(), once.end(), [&](const Remark& other) {
      return other.severity == remark.severity && other.text == remark.text &&
             other.remedy == remark.remedy;
    });
    if (same == once.end())
      once.push_back(remark);
    else
      same->about += ", " + remark.about;
  }
  return once;
}

}  // namespace

void check_habits(const PanelDescription& panel, std::vector<Remark>& remarks) {
  check_face(panel, remarks);
  check_keys(panel, remarks);
}

bool CheckReport::wrong() const {
  return std::any_of(remarks.begin(), remarks.end(),
                     [](const Remark& remark) { return remark.severity == Severity::kWrong; });
}

CheckReport check(const Panel& panel) {
  const PanelDescription& description = panel.description;
  CheckReport report;
  report.name = description.name;
  report.file_name = panel.file_name;
  report.chip = description.board.chip;
  report.supply_uv = description.board.supply_uv;
  report.pin_advised_ua = description.board.pin_advised_ua;
  report.pin_limit_ua = description.board.pin_limit_ua;
  report.pins = check_pins(description, report.remarks);
  report.currents = check_currents(description, report.remarks);
  report.rates = check_rates(panel, report.remarks);
  check_controls(description, report.rates.loop, report.remarks);
  check_outputs(description, report.remarks);
  check_habits(description, report.remarks);
  report.remarks = merged(report.remarks);
  std::stable_sort(report.remarks.begin(), report.remarks.end(),
                   [](const Remark& a, const Remark& b) { return a.severity > b.severity; });
  return report;
}

}  // namespace understudy
