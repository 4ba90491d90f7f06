// What a sensor measures one after the other: numbers of a panel file or of a file beside it ->
// shares of the sensor's range.
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "sim/base/result.h"
#include "sim/model/control_description.h"
#include "sim/panel/mistakes.h"

namespace understudy {

// Of all sensors of a panel together, so that a panel written out in full stays a panel file.
inline constexpr std::size_t kSensorValuesMax = 65'536;

// Within +-10^12, as wire numbers are; TOML has infinities too.
bool is_sensor_number(double number);

// Gives the text of a file that a panel names, or says why not. Empty: the panel came as a text,
// and there is no folder that the file could lie in.
using ReadBeside = std::function<Result<std::string>(const std::string& name)>;

// The numbers of a text: one a line, or the last of columns between semicolons, tabs or, where
// there are none of these, commas. Empty lines, lines that begin with # and a first line that is no
// number are passed over, and so is a UTF-8 byte order mark. A line such as "21,5" is refused where
// no other line shows that its comma stands between columns. Errors: kUnusable, naming the line;
// `file_name` is for messages.
Result<std::vector<double>> numbers_in(std::string_view text, std::string_view file_name);

// Scales the numbers to the `range` in the sensor's table, or to their least and most, and puts
// them into the sensor. Mistakes stand at `key`.
void take_sensor_values(const Node& table, const std::vector<double>& numbers, std::string_view key,
                        ControlDescription& into, Mistakes& mistakes);

// Reads the file of a sensor that names one, and forgets the name: from there on the values count.
void read_sensor_file(const Node& table, const ReadBeside& read, ControlDescription& into,
                      Mistakes& mistakes);

}  // namespace understudy
