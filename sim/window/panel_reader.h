// Reads and compiles panel files on a thread of its own: once when asked, and again whenever a
// watched one has changed. What comes of it waits until it is taken.
#pragma once

#include <condition_variable>
#include <cstdint>
#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <thread>
#include <vector>

#include "sim/base/result.h"
#include "sim/model/panel.h"
#include "sim/window/file_watch.h"

namespace understudy {

struct PanelReading {
  std::string path;
  std::uint64_t asked = 0;  // the number that read_once() gave; 0: the watch saw a change
  bool gone = false;
  std::string text;  // as read; empty where it could not be
  Result<std::shared_ptr<const Panel>> panel = Error{};
};

// Text of a file and the panel in it, or why there is none. For the reading thread and tests.
PanelReading read_panel_file(const std::string& path);

class PanelReader {
 public:
  // `wake`: called on the reading thread when a reading waits.
  explicit PanelReader(std::function<void()> wake);
  ~PanelReader();
  PanelReader(const PanelReader&) = delete;
  PanelReader& operator=(const PanelReader&) = delete;

  // These paths and no others. The first reading of each comes 100 ms later, too.
  void watch(const std::vector<std::string>& paths);
  std::uint64_t read_once(std::string path);
  std::vector<PanelReading> take();

 private:
  void run();
  bool look_once();

  std::function<void()> wake_;
  std::mutex mutex_;
  std::condition_variable changed_;
  bool stop_ = false;
  std::uint64_t asked_count_ = 0;
  std::map<std::string, FileWatch> watched_;
  std::vector<PanelReading> to_read_;
  std::vector<PanelReading> readings_;
  std::thread thread_;
};

}  // namespace understudy
