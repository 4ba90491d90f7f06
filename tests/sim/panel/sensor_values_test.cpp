// What a sensor measures one after the other: out of lists, out of files beside the panel, and what
// is said of wrong ones.
#include "sim/panel/sensor_values.h"

#include <gtest/gtest.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cstdio>
#include <filesystem>

#include "tests/sim/panel/panel_text.h"

namespace understudy {
namespace {

using Numbers = std::vector<double>;
using Shares = std::vector<std::int64_t>;

std::string sensor(const std::string& keys) {
  return "panel = \"X\"\n[[control]]\nname = \"heat\"\nkind = \"sensor\"\n" + keys;
}

// A folder of this process alone, with a panel file and what is put beside it.
class Folder {
 public:
  Folder() { std::filesystem::create_directories(path_); }
  ~Folder() { std::filesystem::remove_all(path_); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;

  std::string put(const std::string& name, const std::string& text) {
    const std::string path = path_ + "/" + name;
    std::FILE* file = std::fopen(path.c_str(), "wb");
    EXPECT_NE(file, nullptr);
    std::fwrite(text.data(), 1, text.size(), file);
    std::fclose(file);
    return path;
  }
  [[nodiscard]] const std::string& path() const { return path_; }

 private:
  std::string path_ = testing::TempDir() + std::to_string(getpid()) + "_sensor_values";
};

TEST(PanelSensorValues, AreOneALineOrTheLastColumn) {
  EXPECT_EQ(numbers_in("1\n2.5\n-3e1\n", "f").value(), (Numbers{1, 2.5, -30}));
  EXPECT_EQ(numbers_in("time,heat\r\n0,18.5\r\n1,19\r\n", "f").value(), (Numbers{18.5, 19}));
  EXPECT_EQ(numbers_in("# of a winter\n\n0;0;+4\n1\t5\n", "f").value(), (Numbers{4, 5}));
  EXPECT_EQ(numbers_in("7", "f").value(), (Numbers{7}));
}

// RFC 4180 lets fields stand in quotes; nothing else of it is read.
TEST(PanelSensorValues, MayStandInQuotes) {
  EXPECT_EQ(numbers_in("\"t\",\"v\"\n\"0\",\"1.5\"\n", "f").value(), (Numbers{1.5}));
}

TEST(PanelSensorValues, ALineThatIsNoNumberIsNamed) {
  EXPECT_EQ(numbers_in("1\nwarm\n", "heat.csv").error().text, "warm in line 2 of heat.csv");
  EXPECT_EQ(numbers_in("0;18,5\n1;19,5\n", "heat.csv").error().text,
            "18,5 in line 1 of heat.csv, a decimal comma");
  EXPECT_EQ(numbers_in("heat\n", "heat.csv").error().text, "no number in heat.csv");
  EXPECT_EQ(numbers_in("1\nnan\n", "heat.csv").error().text, "nan in line 2 of heat.csv");
}

// RFC 3629, section 6: the mark at the beginning is EF BB BF and no part of the text.
TEST(PanelSensorValues, BeginBehindAByteOrderMark) {
  EXPECT_EQ(numbers_in("\xEF\xBB\xBF"
                       "5\n7\n",
                       "f")
                .value(),
            (Numbers{5, 7}));
  EXPECT_EQ(numbers_in("\xEF\xBB\xBFheat\n7\n", "f").value(), (Numbers{7}));
}

TEST(PanelSensorValues, WithADecimalCommaAreRefused) {
  const std::string doubt = ", a decimal comma or two columns without their names above";
  EXPECT_EQ(numbers_in("21,5\n22,1\n", "heat.csv").error().text,
            "21,5 in line 1 of heat.csv" + doubt);
  EXPECT_EQ(numbers_in("heat\n-3,75\n", "heat.csv").error().text,
            "-3,75 in line 2 of heat.csv" + doubt);
  EXPECT_EQ(numbers_in("21.5\n22,1\n", "heat.csv").error().text,
            "22,1 in line 2 of heat.csv" + doubt);
  EXPECT_EQ(numbers_in("\"21,5\"\n", "heat.csv").error().text,
            "21,5 in line 1 of heat.csv" + doubt);
  EXPECT_EQ(numbers_in("t;heat\n0;21,5\n", "heat.csv").error().text,
            "21,5 in line 2 of heat.csv, a decimal comma");
  // Beyond doubt two columns.
  EXPECT_EQ(numbers_in("t,heat\n0,21\n", "f").value(), (Numbers{21}));
  EXPECT_EQ(numbers_in("0,18.5\n1,19\n", "f").value(), (Numbers{18.5, 19}));
  EXPECT_EQ(numbers_in("1,2,3\n", "f").value(), (Numbers{3}));
  EXPECT_EQ(numbers_in("0,-4\n", "f").value(), (Numbers{-4}));
}

// A pipe that nobody writes to would keep whoever reads it waiting for ever.
TEST(PanelSensorValues, AreReadOutOfRegularFilesAlone) {
  Folder folder;
  const std::string pipe = folder.path() + "/heat.csv";
  ASSERT_EQ(mkfifo(pipe.c_str(), 0600), 0);
  const std::string path = folder.put("x.panel.toml", sensor("file = \"heat.csv\"\n"));
  const std::string before = path +
                             ":5:8: control.file: found \"heat.csv\", expected the name of a file "
                             "beside the panel file; ";
  EXPECT_EQ(load_panel(path).error().text,
            before + pipe + " is a pipe or a device; copy its values to a file");
  folder.put("y.panel.toml", sensor("file = \"/dev/zero\"\n"));
  EXPECT_NE(load_panel(folder.path() + "/y.panel.toml").error().text.find("/dev/zero is a pipe"),
            std::string::npos);
}

TEST(PanelSensorValues, SpanTheWholeRangeUnlessOneIsGiven) {
  EXPECT_EQ(described(sensor("values = [10, 15, 20]\n")).controls[0].sensor.values_ppm,
            (Shares{0, 500'000, 1'000'000}));
  const ControlDescription ranged =
      described(sensor("values = [10, 15, 20, 99]\nrange = [0, 20]\n")).controls[0];
  EXPECT_EQ(ranged.sensor.values_ppm, (Shares{500'000, 750'000, 1'000'000, 1'000'000}));
  EXPECT_EQ(ranged.sensor.course, SensorCourse::kValues);
  // A range the other way round: a thermistor's voltage falls as it warms.
  EXPECT_EQ(described(sensor("values = [5]\nrange = [20, 0]\n")).controls[0].sensor.values_ppm,
            (Shares{750'000}));
}

TEST(PanelSensorValues, OfAFileLieBesideThePanelAndStandInItsText) {
  Folder folder;
  folder.put("heat.csv", "t,heat\n0,0\n1,50\n2,200\n");
  const std::string path = folder.put("x.panel.toml", sensor("file = \"heat.csv\"\n"));
  const auto panel = load_panel(path);
  ASSERT_TRUE(panel.ok()) << panel.error().text;
  EXPECT_EQ(panel.value()->description.controls[0].sensor.values_ppm,
            (Shares{0, 250'000, 1'000'000}));
  // Whoever keeps the text (a recording) reads the same panel out of it, without the file.
  const auto again = parse_panel(panel.value()->text, "kept");
  ASSERT_TRUE(again.ok()) << again.error().text;
  EXPECT_EQ(again.value()->description, panel.value()->description);
  EXPECT_EQ(resolved_toml(again.value()->description), resolved_toml(panel.value()->description));
}

TEST(PanelSensorValues, AFileThatCannotBeReadIsToldAtItsKey) {
  Folder folder;
  const std::string path = folder.put("x.panel.toml", sensor("file = \"heat.csv\"\n"));
  EXPECT_EQ(load_panel(path).error().text,
            path +
                ":5:8: control.file: found \"heat.csv\", expected the name of a file beside the "
                "panel file; cannot read " +
                folder.path() + "/heat.csv: No such file or directory");
  folder.put("heat.csv", "1\nwarm\n");
  EXPECT_EQ(load_panel(path).error().text,
            path +
                ":5:8: control.file: found warm in line 2 of heat.csv, expected a number in each "
                "line, with a point for its decimals");
  folder.put("heat.csv", "4\n4\n");
  EXPECT_EQ(load_panel(path).error().text,
            path +
                ":5:8: control.file: found values that are all the same, expected range = [LOW, "
                "HIGH] beside them; without it the least and the most of them are the ends");
}

TEST(PanelSensorValues, APanelThatCameAsATextHasNoFolder) {
  EXPECT_EQ(said_of(sensor("file = \"heat.csv\"\n")),
            "x.panel.toml:5:8: control.file: found \"heat.csv\", expected values = [...] in the "
            "panel itself; this panel came as a text, so there is no folder that the file could "
            "lie in");
}

TEST(PanelSensorValues, MoreThanAPanelHoldsAreRefused) {
  std::string many = "values = [0";
  for (std::size_t i = 0; i < kSensorValuesMax; ++i) many += ",1";
  EXPECT_EQ(said_of(sensor(many + "]\n")),
            "x.panel.toml:5:10: control.values: found 65537 values, expected at most 65536 of all "
            "sensors together; leave every second out and double every");
}

TEST(PanelSensorValues, WhatDoesNotGoTogetherIsToldSo) {
  EXPECT_EQ(said_of(sensor("course = \"values\"\n")),
            "x.panel.toml:5:10: control.course: found \"values\" without any, expected values = "
            "[...] or file = \"NAME\"");
  EXPECT_EQ(said_of(sensor("range = [0, 1]\n")),
            "x.panel.toml:5:9: control.range: found it without values, expected values or file "
            "beside it");
  EXPECT_EQ(said_of(sensor("values = [1, 2]\nfile = \"a.csv\"\n")),
            "x.panel.toml:6:8: control.file: found it beside values, expected one of both");
  EXPECT_EQ(said_of(sensor("values = [1, \"2\"]\n")),
            "x.panel.toml:5:10: control.values: found [1, \"2\"], expected a list of numbers such "
            "as [18.5, 19, 21]");
  EXPECT_EQ(said_of(sensor("values = [1, inf]\n")),
            "x.panel.toml:5:10: control.values: found [1, inf], expected a list of numbers such as "
            "[18.5, 19, 21]");
  EXPECT_EQ(said_of(sensor("values = [1, 2]\nrange = [3, 3]\n")),
            "x.panel.toml:6:9: control.range: found [3, 3], expected two different numbers such as "
            "[-20, 60]");
}

}  // namespace
}  // namespace understudy
