// Games of every kind of manners on a TCP socket of loopback.
#include "sim/link/tcp_link.h"

#include "tests/sim/link/link_bench.h"
#include "tests/sim/link/tcp_game.h"

namespace understudy {
namespace {

class Tcp : public testing::Test {
 protected:
  void start(TcpOptions options = {}) {
    options.port = 0;
    link = &bench.add(open_tcp(bench.pacer, options));
  }
  Descriptor open() { return connect_to(link->where()); }
  bool runs_until_open() {
    return bench.run_until([&] { return link->open(); });
  }
  bool runs_until_closed(int times = 1) {
    return bench.run_until([&] { return bench.count<LinkClosed>() >= times; });
  }
  std::uint64_t dropped(DropReason reason) const { return link->counts().dropped_by(reason); }
  LinkBench bench;
  Link* link = nullptr;
};

TEST_F(Tcp, ConnectingReadingWritingClosingComeOutInOrder) {
  start();
  Descriptor game = open();
  ASSERT_TRUE(runs_until_open());
  link->write("512,300\n");
  EXPECT_EQ(read_port(game), "512,300\n");
  ASSERT_TRUE(bench.run_until([&] { return bench.taken() == 8; }));
  write_port(game, "255,0\n");
  ASSERT_TRUE(bench.run_until([&] { return !bench.bytes_from_game().empty(); }));
  game.reset();
  ASSERT_TRUE(runs_until_closed());
  EXPECT_EQ(bench.order(), "otbc");
  EXPECT_EQ(bench.bytes_from_game(), "255,0\n");
}

TEST_F(Tcp, TheBaudIsRightByDefinitionUnlessSaid) {
  start();
  Descriptor game = open();
  ASSERT_TRUE(runs_until_open());
  EXPECT_TRUE(bench.last<LinkOpened>().dtr);
  EXPECT_EQ(bench.count<LineSettings>(), 0);
}

TEST_F(Tcp, AsIfBaudAndLowDtrAreToldAtTheOpening) {
  start({.as_if_baud = 9'600, .dtr_low = true});
  Descriptor game = open();
  ASSERT_TRUE(runs_until_open());
  EXPECT_FALSE(bench.last<LinkOpened>().dtr);
  EXPECT_EQ(bench.last<LineSettings>().baud, 9'600);
}

TEST_F(Tcp, TakenCountsExactlyWhatTheGameReadOnThisMachine) {
  start();
  const Descriptor game = open();
  ASSERT_TRUE(runs_until_open());
  EXPECT_TRUE(link->sees_taken());
  std::int64_t read = 0;
  for (int line = 0; line < 200; ++line) {
    link->write("512,300,0,0,1\n");
    read += static_cast<std::int64_t>(read_port(game, static_cast<std::size_t>(line % 23)).size());
    bench.run(microseconds(700));
    EXPECT_LE(bench.taken(), read) << "counted as taken before it was read, at line " << line;
  }
  EXPECT_TRUE(bench.run_until([&] { return bench.taken() == read; }));
}

TEST_F(Tcp, AGameThatNeverReadsMakesTheHostBufferFullAndNoMore) {
  start();
  const Descriptor game = open();
  ASSERT_TRUE(runs_until_open());
  for (int line = 0; line < 1'000; ++line) link->write("512,300,0,0,1\n");
  bench.run(milliseconds(20));
  EXPECT_EQ(bench.taken(), 0);
  EXPECT_EQ(dropped(DropReason::kQueueFull), 14'000U - 4'096U);
  EXPECT_EQ(read_port(game).size(), 4'096U);
}

TEST_F(Tcp, AFloodStaysInTheKernelUntilTheDeviceHasRoom) {
  start();
  bench.space = 0;
  const Descriptor game = open();
  ASSERT_TRUE(runs_until_open());
  std::size_t accepted = 0, more = 0;
  while ((more = write_port(game, std::string(65'536, 'f'))) > 0) {
    accepted += more;
    bench.run(milliseconds(1));
  }
  EXPECT_TRUE(bench.bytes_from_game().empty());
  bench.space = 1'000;
  bench.run(milliseconds(20));
  EXPECT_GT(bench.count<BytesFromGame>(), 0);
  for (const Input& input : bench.inputs) {
    if (const auto* bytes = std::get_if<BytesFromGame>(&input.what)) {
      ASSERT_LE(bytes->bytes.size(), 1'000U);
    }
  }
  bench.space = 65'536;
  EXPECT_TRUE(bench.run_until([&] { return link->counts().bytes_to_panel >= accepted; }));
}

TEST_F(Tcp, ASecondConnectionIsClosedWithoutAByteAndSaidOnOurSideOnly) {
  start();
  const Descriptor game = open();
  ASSERT_TRUE(runs_until_open());
  const Descriptor stranger = open();
  ASSERT_TRUE(bench.run_until([&] { return link->counts().strangers == 1; }));
  char byte;
  EXPECT_EQ(::read(stranger.get(), &byte, 1), 0);
  link->write("512\n");
  EXPECT_EQ(read_port(game), "512\n");
  const auto notices = link->take_notices();
  ASSERT_EQ(notices.size(), 1U);
  EXPECT_NE(notices[0].find("process " + std::to_string(getpid())), std::string::npos)
      << notices[0];
  EXPECT_EQ(bench.order(), "o");
}

TEST_F(Tcp, AFloodOfStrangersIsCountedAndToldNowAndThen) {
  start();
  const Descriptor game = open();
  ASSERT_TRUE(runs_until_open());
  for (int i = 0; i < 300; ++i) {
    open();
    if (i % 50 == 0) bench.run(milliseconds(1));
  }
  ASSERT_TRUE(bench.run_until([&] { return link->counts().strangers == 300; }));
  EXPECT_LE(link->take_notices().size(), 5U);
  EXPECT_TRUE(link->open());
}

TEST_F(Tcp, TenConnectionsASecondForEverLeaveNothingBehind) {
  start();
  for (int times = 1; times <= 100; ++times) {
    Descriptor game = open();
    ASSERT_TRUE(runs_until_open()) << times;
    write_port(game, "L");
    link->write("512,300,0,0,1\n");
    if (times % 2 == 0) {
      reset_connection(game);
    } else {
      game.reset();
    }
    ASSERT_TRUE(runs_until_closed(times)) << times;
  }
  EXPECT_EQ(bench.count<LinkOpened>(), 100);
  const LinkCounts& counts = link->counts();
  EXPECT_EQ(counts.bytes_to_game, counts.bytes_taken + dropped(DropReason::kUnreadAtClose));
}

TEST_F(Tcp, AGameThatReconnectsWithinOneLookIsSeenAsTwoVisits) {
  start();
  Descriptor game = open();
  ASSERT_TRUE(runs_until_open());
  write_port(game, "0,0\n");
  game.reset();
  game = open();
  EXPECT_TRUE(bench.run_until([&] { return bench.order() == "obco"; })) << bench.order();
}

TEST_F(Tcp, AHalfClosedGameIsGone) {
  start();
  const Descriptor game = open();
  ASSERT_TRUE(runs_until_open());
  write_port(game, "1\n");
  ::shutdown(game.get(), SHUT_WR);
  ASSERT_TRUE(runs_until_closed());
  EXPECT_EQ(bench.bytes_from_game(), "1\n");
  EXPECT_EQ(link->write("512\n").dropped, 4U);
}

TEST_F(Tcp, AResetIsAClosing) {
  start();
  Descriptor game = open();
  ASSERT_TRUE(runs_until_open());
  link->write("512\n");
  reset_connection(game);
  ASSERT_TRUE(runs_until_closed());
  EXPECT_EQ(dropped(DropReason::kUnreadAtClose), 4U);
}

TEST_F(Tcp, AGameThatFloodsAndClosesIsGoneAfterTwoSecondsAndTheNextOneComesIn) {
  start();
  bench.space = 0;
  Descriptor game = open();
  ASSERT_TRUE(runs_until_open());
  const std::size_t accepted = write_port(game, std::string(3'000, 'f'));
  game.reset();
  game = open();
  ASSERT_TRUE(runs_until_closed());
  EXPECT_EQ(dropped(DropReason::kNeverFetched), accepted);
  ASSERT_TRUE(runs_until_open());
  EXPECT_EQ(bench.order(), "oco");
}

TEST_F(Tcp, APortInUseIsAClearErrorThatNamesTheHolder) {
  start();
  TcpOptions same;
  same.port = port_in(link->where());
  const auto second = open_tcp(bench.pacer, same);
  ASSERT_FALSE(second.ok());
  EXPECT_EQ(second.error().code, ErrorCode::kBusy);
  EXPECT_NE(second.error().text.find("process " + std::to_string(getpid())), std::string::npos)
      << second.error().text;
}

TEST_F(Tcp, AnAddressOfAnotherMachineIsRefused) {
  TcpOptions elsewhere;
  elsewhere.host = "192.0.2.1";  // for documentation alone, RFC 5737
  elsewhere.port = 0;
  const auto link = open_tcp(bench.pacer, elsewhere);
  ASSERT_FALSE(link.ok());
  EXPECT_EQ(link.error().code, ErrorCode::kUnusable);
}

TEST_F(Tcp, UnpluggingClosesAndReplugListensAtTheSamePlace) {
  start();
  const std::string where = link->where();
  Descriptor game = open();
  ASSERT_TRUE(runs_until_open());
  link->unplug();
  ASSERT_TRUE(runs_until_closed());
  EXPECT_FALSE(connect_to(where).valid());
  ASSERT_TRUE(link->plug_in().ok());
  EXPECT_EQ(link->where(), where);
  game = open();
  ASSERT_TRUE(runs_until_open());
}

TEST_F(Tcp, ListeningBeyondThisMachineIsSaid) {
  start({.host = "0.0.0.0"});
  ASSERT_EQ(link->take_notices().size(), 1U);
}

TEST(TcpPlace, IsAPortOrAHostAndAPort) {
  TcpOptions options;
  ASSERT_TRUE(read_tcp_place("4000", options).ok());
  EXPECT_EQ(options.port, 4'000);
  EXPECT_EQ(options.host, "127.0.0.1");
  ASSERT_TRUE(read_tcp_place("[::1]:0", options).ok());
  EXPECT_EQ(options.host, "::1");
  for (const char* bad : {"", "x", "65536", "1.2.3.4:", ":80", "-1", "80x"}) {
    EXPECT_FALSE(read_tcp_place(bad, options).ok()) << bad;
  }
}

TEST(TcpLinkOnVersion6, SeesWhatTheGameTookToo) {
  LinkBench bench;
  TcpOptions options;
  options.host = "::1";
  options.port = 0;
  Link& link = bench.add(open_tcp(bench.pacer, options));
  const Descriptor game(::socket(AF_INET6, SOCK_STREAM | SOCK_CLOEXEC, 0));
  sockaddr_in6 address{};
  address.sin6_family = AF_INET6;
  address.sin6_port = htons(port_in(link.where()));
  address.sin6_addr = in6addr_loopback;
  ASSERT_EQ(::connect(game.get(), reinterpret_cast<sockaddr*>(&address), sizeof address), 0);
  ASSERT_TRUE(bench.run_until([&] { return link.open(); }));
  EXPECT_TRUE(link.sees_taken());
  link.write("512\n");
  bench.run(milliseconds(20));
  EXPECT_EQ(bench.taken(), 0);
  read_port(game);
  EXPECT_TRUE(bench.run_until([&] { return bench.taken() == 4; }));
}

}  // namespace
}  // namespace understudy
