// What the pacer waits with: one Asio context and the note that something woke it. For the files of
// this folder that include Asio; everyone else sees only its name.
#pragma once

#include <asio/executor_work_guard.hpp>
#include <asio/io_context.hpp>
#include <asio/steady_timer.hpp>
#include <cstdint>
#include <memory>
#include <optional>

namespace understudy {

struct OpenHub;

struct WaitEngine {
  asio::io_context context{1};  // 1: one thread runs it, so Asio needs no locks
  asio::steady_timer timer{context};
  std::optional<std::int64_t> rings_at_ns;  // of the real clock; absent: it is not set
  std::weak_ptr<OpenHub> open_hub;          // owned by the watches on paths
  bool touched = false;                     // a watch or socket became ready since the last wait
};

}  // namespace understudy
