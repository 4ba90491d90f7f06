// Hands from another process; the other process is a thread here.
#include "sim/link/hand_socket.h"

#include <gtest/gtest.h>
#include <stdlib.h>
#include <sys/socket.h>
#include <sys/un.h>
#include <sys/wait.h>
#include <unistd.h>

#include <atomic>
#include <filesystem>
#include <fstream>
#include <thread>

#include "sim/link/descriptor.h"

namespace understudy {
namespace {

class Hands : public testing::Test {
 protected:
  void SetUp() override {
    std::string pattern = testing::TempDir() + "hands_XXXXXX";
    ASSERT_NE(mkdtemp(pattern.data()), nullptr);
    base = pattern;
    setenv("XDG_RUNTIME_DIR", base.c_str(), 1);
  }
  void TearDown() override { std::filesystem::remove_all(base); }

  // Sends from a thread while this session answers what comes in.
  Result<Done> send(const std::string& line, const std::optional<Error>& answer) {
    Result<Done> result = Done{};
    std::atomic<bool> sent{false};
    std::thread caller([&] {
      result = send_hand(line);
      sent = true;
    });
    while (!sent) {
      pacer.wait(pacer.clock() + milliseconds(5), {});
      for (const HandSocket::Asked& asked : session->take()) {
        heard.push_back(asked.line);
        session->answer(asked, answer);
      }
    }
    caller.join();
    return result;
  }
  void open() { session = HandSocket::open(pacer).value(); }

  Pacer pacer;
  std::unique_ptr<HandSocket> session;
  std::vector<std::string> heard;
  std::string base;
};

TEST_F(Hands, ALineReachesTheOnlySessionAndItsAnswerComesBack) {
  open();
  EXPECT_TRUE(send("bell down", std::nullopt).ok());
  ASSERT_EQ(heard.size(), 1U);
  EXPECT_EQ(heard[0], "bell down");
}

TEST_F(Hands, ARefusalComesBackInTheSessionsWordsWithAllItsLines) {
  open();
  const auto result = send("belt down", Error{ErrorCode::kUnusable, "no control belt\nnear: bell"});
  ASSERT_FALSE(result.ok());
  EXPECT_EQ(result.error().text, "no control belt\nnear: bell");
}

TEST_F(Hands, WithoutASessionTheErrorSaysHowToStartOne) {
  const auto result = send_hand("bell down");
  ASSERT_FALSE(result.ok());
  EXPECT_NE(result.error().text.find("serve"), std::string::npos);
}

TEST_F(Hands, ASessionIsListedWhileItLives) {
  open();
  EXPECT_EQ(running_sessions(), std::vector<std::int64_t>{getpid()});
  session.reset();
  EXPECT_TRUE(running_sessions().empty());
}

TEST_F(Hands, WhatADeadSessionLeftBehindIsNoSession) {
  open();
  const std::string dead = base + "/understudy/session-1";
  const std::string about = base + "/understudy/about-1";
  std::ofstream(about) << "tram\n";
  {
    const Descriptor socket(::socket(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0));
    sockaddr_un address{};
    address.sun_family = AF_UNIX;
    dead.copy(address.sun_path, sizeof address.sun_path - 1);
    ASSERT_EQ(::bind(socket.get(), reinterpret_cast<sockaddr*>(&address), sizeof address), 0);
  }
  EXPECT_EQ(running_sessions(), std::vector<std::int64_t>{getpid()});
  EXPECT_FALSE(std::filesystem::exists(dead));
  EXPECT_FALSE(std::filesystem::exists(about));
}

// Another session of this user, as a process of its own until it is told to end.
class OtherSession {
 public:
  explicit OtherSession(std::string_view about) {
    EXPECT_EQ(pipe(hold_), 0);
    EXPECT_EQ(pipe(ready_), 0);
    child_ = fork();
    if (child_ == 0) {
      ::close(hold_[1]);
      Pacer pacer;
      auto session = HandSocket::open(pacer, about);
      char byte = session.ok() ? 'y' : 'n';
      (void)!::write(ready_[1], &byte, 1);
      (void)!::read(hold_[0], &byte, 1);
      session.value().reset();
      _exit(0);
    }
    char byte = 'n';
    EXPECT_EQ(::read(ready_[0], &byte, 1), 1);
    EXPECT_EQ(byte, 'y');
  }
  ~OtherSession() {
    ::close(hold_[1]);
    waitpid(child_, nullptr, 0);
    for (const int fd : {hold_[0], ready_[0], ready_[1]}) ::close(fd);
  }
  OtherSession(const OtherSession&) = delete;
  OtherSession& operator=(const OtherSession&) = delete;
  [[nodiscard]] std::string pid() const { return std::to_string(child_); }

 private:
  int hold_[2] = {-1, -1};
  int ready_[2] = {-1, -1};
  pid_t child_ = -1;
};

TEST_F(Hands, AmongSeveralSessionsEachIsToldWithItsPanelAndHowToNameIt) {
  {
    const OtherSession tram("tram at /dev/pts/5");
    const OtherSession silent("");
    const OtherSession crane("crane at /dev/pts/6");
    const auto result = send_hand("bell down");
    ASSERT_FALSE(result.ok());
    EXPECT_EQ(result.error().code, ErrorCode::kUnusable);
    const std::string& text = result.error().text;
    EXPECT_NE(text.find("\n  --process " + tram.pid() + "  tram at /dev/pts/5"), std::string::npos)
        << text;
    EXPECT_NE(text.find("\n  --process " + silent.pid()), std::string::npos) << text;
    EXPECT_NE(text.find("\n  --process " + crane.pid() + "  crane at /dev/pts/6"),
              std::string::npos)
        << text;
  }
  EXPECT_TRUE(std::filesystem::is_empty(base + "/understudy")) << "something was left behind";
}

TEST_F(Hands, ALineThatNeverEndsIsHungUpOn) {
  open();
  const Descriptor socket(::socket(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC | SOCK_NONBLOCK, 0));
  sockaddr_un address{};
  address.sun_family = AF_UNIX;
  const std::string path = base + "/understudy/session-" + std::to_string(getpid());
  path.copy(address.sun_path, sizeof address.sun_path - 1);
  ASSERT_EQ(::connect(socket.get(), reinterpret_cast<sockaddr*>(&address), sizeof address), 0);
  const std::string flood(10'000, 'x');
  ::send(socket.get(), flood.data(), flood.size(), MSG_NOSIGNAL);
  char byte;
  ssize_t got = -1;
  for (int looks = 0; looks < 100 && got != 0; ++looks) {
    pacer.wait(pacer.clock() + milliseconds(5), {});
    EXPECT_TRUE(session->take().empty());
    got = ::recv(socket.get(), &byte, 1, 0);
    if (got < 0 && errno == ECONNRESET) got = 0;
  }
  EXPECT_EQ(got, 0);
}

}  // namespace
}  // namespace understudy
