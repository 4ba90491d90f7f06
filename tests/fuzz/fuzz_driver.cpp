// Runs fuzz_one over a corpus and seeded mutations of it, under any compiler. When it dies, its
// last line is the command that repeats the case.
//
//   fuzz_codec --name codec --corpus DIR [--seed N] [--cases N]
//   fuzz_codec ... --case N                 that case alone
//   fuzz_codec ... --case N --write FILE    writes the case's input instead of running it
#include <signal.h>
#include <unistd.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "tests/fuzz/fuzz_one.h"
#include "tests/fuzz/mutate.h"

#if defined(__SANITIZE_ADDRESS__)
#include <sanitizer/common_interface_defs.h>
#endif

namespace understudy {
namespace {

// A case that takes longer than this is reported as one that never ends.
constexpr unsigned kCaseSecondsMax = 20;

struct Wanted {
  std::string program;
  std::string name;
  std::string corpus;
  std::string write;
  std::uint64_t seed = 1;
  std::int64_t cases = 20'000;
  std::int64_t only = -1;
};

// What the signal handler says; filled before each case, because a handler may not allocate.
char last_words[1024];
int last_words_size = 0;

void say_last_words() {
  if (::write(STDERR_FILENO, last_words, static_cast<std::size_t>(last_words_size)) < 0) return;
}

void die(int signal_number) {
  say_last_words();
  ::signal(signal_number, SIG_DFL);
  ::raise(signal_number);
}

void announce(const Wanted& wanted, std::int64_t number) {
  last_words_size = std::min<int>(
      sizeof last_words - 1,
      std::snprintf(last_words, sizeof last_words,
                    "fuzz %s: case %lld failed\nrepeat with: %s --name %s --corpus %s --seed %llu "
                    "--case %lld\n",
                    wanted.name.c_str(), static_cast<long long>(number), wanted.program.c_str(),
                    wanted.name.c_str(), wanted.corpus.c_str(),
                    static_cast<unsigned long long>(wanted.seed), static_cast<long long>(number)));
}

Wanted read_arguments(int count, char** words) {
  Wanted wanted;
  wanted.program = words[0];
  for (int i = 1; i + 1 < count; i += 2) {
    const std::string name = words[i];
    const std::string value = words[i + 1];
    if (name == "--name") wanted.name = value;
    if (name == "--corpus") wanted.corpus = value;
    if (name == "--write") wanted.write = value;
    if (name == "--seed") wanted.seed = std::strtoull(value.c_str(), nullptr, 10);
    if (name == "--cases") wanted.cases = std::strtoll(value.c_str(), nullptr, 10);
    if (name == "--case") wanted.only = std::strtoll(value.c_str(), nullptr, 10);
  }
  return wanted;
}

// The files of `folder` in the order of their names.
std::vector<FuzzInput> read_corpus(const std::string& folder) {
  std::vector<std::filesystem::path> paths;
  std::error_code error;
  for (const auto& entry : std::filesystem::directory_iterator(folder, error)) {
    if (entry.is_regular_file()) paths.push_back(entry.path());
  }
  std::sort(paths.begin(), paths.end());
  std::vector<FuzzInput> corpus;
  for (const auto& path : paths) {
    std::ifstream file(path, std::ios::binary);
    corpus.emplace_back(std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>());
  }
  return corpus;
}

void run(const Wanted& wanted, const std::vector<FuzzInput>& corpus, std::int64_t number) {
  announce(wanted, number);
  const FuzzInput input = fuzz_input(corpus, {.seed = wanted.seed, .number = number});
  ::alarm(kCaseSecondsMax);
  fuzz_one(input);
  ::alarm(0);
}

int run_all(const Wanted& wanted) {
  const std::vector<FuzzInput> corpus = read_corpus(wanted.corpus);
  if (corpus.empty()) {
    std::fprintf(stderr, "fuzz %s: no file in %s; put one sound input there\n", wanted.name.c_str(),
                 wanted.corpus.c_str());
    return 2;
  }
  if (!wanted.write.empty()) {
    const FuzzInput input = fuzz_input(corpus, {.seed = wanted.seed, .number = wanted.only});
    std::ofstream file(wanted.write, std::ios::binary);
    file.write(reinterpret_cast<const char*>(input.data()),
               static_cast<std::streamsize>(input.size()));
    return file.flush() ? 0 : 2;
  }
  for (const int number : {SIGABRT, SIGSEGV, SIGBUS, SIGFPE, SIGILL, SIGALRM}) {
    ::signal(number, die);
  }
#if defined(__SANITIZE_ADDRESS__)
  __sanitizer_set_death_callback(say_last_words);
#endif
  if (wanted.only >= 0) {
    run(wanted, corpus, wanted.only);
    return 0;
  }
  for (std::int64_t number = 0; number < wanted.cases; ++number) run(wanted, corpus, number);
  std::printf("fuzz %s: %lld cases from %zu corpus files, seed %llu, none failed\n",
              wanted.name.c_str(), static_cast<long long>(wanted.cases), corpus.size(),
              static_cast<unsigned long long>(wanted.seed));
  return 0;
}

}  // namespace
}  // namespace understudy

int main(int count, char** words) {
  return understudy::run_all(understudy::read_arguments(count, words));
}
