// The command line without its verbs: choice, arguments, mistakes, help. Uses verbs made up here.
#include "sim/app/program.h"

#include <gtest/gtest.h>

#include <memory>

namespace understudy {
namespace {

struct Wanted {
  std::vector<std::string> panels;
  std::optional<std::string> key;
  std::vector<std::string> faults;
  std::vector<std::string> game;
  std::optional<std::uint64_t> seed;
  Duration length = seconds(5);
  double speed = 1;
  bool json = false;
};

Wanted got;  // what the last run of `carry` was given

VerbRun declare_carry(Arguments& arguments) {
  auto wanted = std::make_shared<Wanted>();
  arguments.positional("PANEL...", wanted->panels, "panels to carry");
  arguments.flag("--json", wanted->json, "as JSON");
  arguments.option("--for TIME", wanted->length, "how long");
  arguments.heading("chance");
  arguments.option("--seed N", wanted->seed, "the seed");
  arguments.option("--speed X", wanted->speed, "how fast");
  arguments.options("--fault TEXT", wanted->faults, "a fault");
  arguments.game(wanted->game);
  arguments.example("understudy carry my.panel.toml");
  return [wanted] {
    got = *wanted;
    return 7;
  };
}

VerbRun declare_tell(Arguments& arguments) {
  auto wanted = std::make_shared<Wanted>();
  arguments.positional("[KEY]", wanted->key, "what to tell of");
  return [wanted] {
    got = *wanted;
    return kStatusFine;
  };
}

constexpr Verb kCarry{"carry", VerbGroup::kPlay, "carries panels", declare_carry};
constexpr Verb kTell{"tell", VerbGroup::kDescribe, "tells of a key", declare_tell};
constexpr const Verb* kVerbs[] = {&kTell, &kCarry};

Result<Choice> type(const std::vector<std::string>& words) {
  return choose(words, kVerbs);
}

std::string mistake(const std::vector<std::string>& words) {
  const Result<Choice> choice = type(words);
  if (choice.ok()) return "no mistake found";
  EXPECT_EQ(status_of(choice.error()), kStatusUnusable);
  return choice.error().text;
}

int run(const std::vector<std::string>& words) {
  const Result<Choice> choice = type(words);
  EXPECT_TRUE(choice.ok()) << choice.error().text;
  return choice.ok() && choice.value().run ? choice.value().run() : -1;
}

TEST(CommandLine, EveryArgumentReachesItsVerb) {
  EXPECT_EQ(run({"carry", "a.toml", "--seed", "18446744073709551615", "--for=250ms", "b.toml",
                 "--fault", "bell stuck down", "--fault", "wire loses 1/2000 bytes", "--speed",
                 "0.5", "--json", "--", "./game", "--port", "{port}", "--"}),
            7);
  EXPECT_EQ(got.panels, (std::vector<std::string>{"a.toml", "b.toml"}));
  EXPECT_EQ(got.seed, 18446744073709551615U);
  EXPECT_EQ(got.length, milliseconds(250));
  EXPECT_EQ(got.faults, (std::vector<std::string>{"bell stuck down", "wire loses 1/2000 bytes"}));
  EXPECT_EQ(got.speed, 0.5);
  EXPECT_TRUE(got.json);
  EXPECT_EQ(got.game, (std::vector<std::string>{"./game", "--port", "{port}", "--"}));
}

TEST(CommandLine, WhatIsLeftOutKeepsItsDefault) {
  EXPECT_EQ(run({"carry", "a.toml"}), 7);
  EXPECT_EQ(got.length, seconds(5));
  EXPECT_FALSE(got.seed.has_value());
  EXPECT_TRUE(got.game.empty());
  EXPECT_EQ(run({"tell"}), kStatusFine);
  EXPECT_FALSE(got.key.has_value());
  EXPECT_EQ(run({"tell", "board"}), kStatusFine);
  EXPECT_EQ(got.key, "board");
}

TEST(CommandLine, AnUnknownVerbIsAnsweredWithTheNearestOne) {
  EXPECT_EQ(mistake({"cary", "a.toml"}), "there is no verb 'cary'; the nearest is carry");
  EXPECT_EQ(mistake({"zzzzzzzzz"}), "there is no verb 'zzzzzzzzz'; understudy --help lists them");
  EXPECT_EQ(mistake({"\x1b[2J"}), "there is no verb '\\x1b[2J'; understudy --help lists them");
}

TEST(CommandLine, AnUnknownOptionIsAnsweredWithTheNearestOne) {
  EXPECT_EQ(mistake({"carry", "a", "--sead", "3"}),
            "there is no option --sead; the nearest is --seed");
  EXPECT_EQ(mistake({"carry", "a", "--sead=3"}),
            "there is no option --sead; the nearest is --seed");
}

TEST(CommandLine, AWrongValueIsQuotedWithWhatWouldBeRight) {
  EXPECT_EQ(mistake({"carry", "a", "--seed", "-5"}),
            "--seed is '-5'; it takes a whole number from 0 up");
  EXPECT_EQ(mistake({"carry", "a", "--seed", "18446744073709551616"}),
            "--seed is '18446744073709551616'; it takes a whole number from 0 up");
  EXPECT_EQ(mistake({"carry", "a", "--speed", "0,5"}),
            "--speed is '0,5'; it takes a number such as 2.5");
  EXPECT_EQ(mistake({"carry", "a", "--speed", "inf"}),
            "--speed is 'inf'; it takes a number such as 2.5");
  EXPECT_EQ(mistake({"carry", "a", "--for", "20"}),
            "--for is '20'; it takes a time such as \"20 ms\"");
  EXPECT_EQ(mistake({"carry", "a", "--for", "-20ms"}),
            "--for is '-20ms'; it takes a time such as \"20 ms\"");
}

TEST(CommandLine, MissingAndSurplusArgumentsAreNamed) {
  EXPECT_EQ(mistake({"carry"}), "PANEL is missing (see understudy carry --help)");
  EXPECT_EQ(mistake({"tell", "a", "b"}),
            "'b' is one argument too many (see understudy tell --help)");
  EXPECT_EQ(mistake({"carry", "a", "--seed", "1", "--seed", "2"}), "--seed is given twice");
  EXPECT_EQ(mistake({"carry", "a", "--"}), "after '--' the game to run is missing");
  EXPECT_EQ(mistake({"tell", "--", "./game"}),
            "'--' begins a game to run, and this verb runs none (see understudy tell --help)");
  EXPECT_NE(mistake({"carry", "a", "--seed"}).find("--seed"), std::string::npos);
  EXPECT_NE(mistake({}).find("a verb is missing"), std::string::npos);
}

TEST(CommandLine, HelpShowsGroupsInTheirOrderAndEveryArgument) {
  const Result<Choice> all = type({"--help"});
  ASSERT_TRUE(all.ok());
  const std::string& text = all.value().shown;
  EXPECT_LT(text.find("\nplay\n  carry       carries panels\n"),
            text.find("\ndescribe\n  tell        tells of a key\n"));

  const Result<Choice> one = type({"carry", "--help"});
  ASSERT_TRUE(one.ok());
  for (const char* part : {"understudy carry", "PANEL", "--for TIME", "--seed N", "chance",
                           "--fault TEXT", "{port}", "understudy carry my.panel.toml"}) {
    EXPECT_NE(one.value().shown.find(part), std::string::npos) << part << "\n" << one.value().shown;
  }
}

TEST(CommandLine, TheVersionIsOneLine) {
  const Result<Choice> choice = type({"--version"});
  ASSERT_TRUE(choice.ok());
  EXPECT_EQ(choice.value().shown, "understudy 0.1.0\n");
}

TEST(CommandLine, EachKindOfErrorHasItsStatus) {
  EXPECT_EQ(status_of({ErrorCode::kUnusable, ""}), 2);
  EXPECT_EQ(status_of({ErrorCode::kOtherModel, ""}), 2);
  EXPECT_EQ(status_of({ErrorCode::kLinkFailed, ""}), 3);
  EXPECT_EQ(status_of({ErrorCode::kBusy, ""}), 3);
  EXPECT_EQ(status_of({ErrorCode::kGameFailed, ""}), 1);
  EXPECT_EQ(status_of({ErrorCode::kMismatch, ""}), 1);
}

}  // namespace
}  // namespace understudy
