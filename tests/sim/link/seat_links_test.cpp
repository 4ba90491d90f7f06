// One game per seat, over all its links.
#include "sim/link/seat_links.h"

#include "sim/link/pty_link.h"
#include "sim/link/tcp_link.h"
#include "tests/sim/link/link_bench.h"
#include "tests/sim/link/tcp_game.h"

namespace understudy {
namespace {

class Seat : public testing::Test {
 protected:
  Seat() : links(make(pacer)) { links.append_to(all); }
  static std::vector<std::unique_ptr<Link>> make(Pacer& pacer) {
    std::vector<std::unique_ptr<Link>> made;
    made.push_back(open_pty(pacer, {}).value());
    TcpOptions tcp;
    tcp.port = 0;
    made.push_back(open_tcp(pacer, tcp).value());
    return made;
  }
  bool run_until(const std::function<bool()>& done) {
    const Instant end = pacer.clock() + seconds(5);
    while (pacer.clock() < end) {
      if (done()) return true;
      pacer.wait(pacer.clock() + milliseconds(5), all);
      links.read_events(pacer, 2'048, inputs);
    }
    return false;
  }
  void run(Duration length) {
    const Instant end = pacer.clock() + length;
    run_until([&] { return pacer.clock() >= end; });
  }
  const std::string pty_path() const { return links.links()[0]->where(); }
  const std::string tcp_place() const { return links.links()[1]->where(); }

  Pacer pacer;
  SeatLinks links;
  std::vector<Link*> all;
  std::vector<Input> inputs;
};

TEST_F(Seat, WhileAGameIsInOnThePtyOneOnTcpIsTurnedAway) {
  const Descriptor game = open_port(pty_path());
  ASSERT_TRUE(run_until([&] { return links.open(); }));
  EXPECT_EQ(links.holder()->name(), "pty");
  const Descriptor stranger = connect_to(tcp_place());
  ASSERT_TRUE(run_until([&] { return links.counts().strangers == 1; }));
  char byte;
  EXPECT_EQ(::read(stranger.get(), &byte, 1), 0);
  EXPECT_EQ(inputs.size(), 1U);
  EXPECT_EQ(links.take_notices().size(), 1U);
}

TEST_F(Seat, AStrangerAtThePtyComesInWhenTheGameOnTcpLeaves) {
  Descriptor game = connect_to(tcp_place());
  ASSERT_TRUE(run_until([&] { return links.open(); }));
  const Descriptor waiting = open_port(pty_path());
  run(milliseconds(20));
  links.write("512\n");
  EXPECT_EQ(read_port(game), "512\n");
  EXPECT_EQ(read_port(waiting), "");
  game.reset();
  ASSERT_TRUE(run_until([&] { return links.open() && links.holder()->name() == "pty"; }));
  links.write("513\n");
  ASSERT_TRUE(run_until([&] { return read_port(waiting) == "513\n"; }));
}

TEST_F(Seat, WithNobodyInEveryByteIsCountedAsDropped) {
  EXPECT_EQ(links.write("512\n").dropped, 4U);
  EXPECT_EQ(links.counts().dropped_by(DropReason::kNobodyOpen), 4U);
}

TEST_F(Seat, UnpluggingPullsAllLinksOfTheSeat) {
  const Descriptor game = open_port(pty_path());
  ASSERT_TRUE(run_until([&] { return links.open(); }));
  const std::string place = tcp_place();
  links.unplug();
  ASSERT_TRUE(run_until([&] { return !links.open(); }));
  EXPECT_FALSE(connect_to(place).valid());
  ASSERT_TRUE(links.plug_in().ok());
  EXPECT_TRUE(connect_to(place).valid());
}

}  // namespace
}  // namespace understudy
