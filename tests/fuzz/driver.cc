/// Replays seeds, then a stated number of inputs made from them by chance that a seed fixes:
///
///     fuzz_length --runs 10000 --chance 1 --keys keys.txt --lines length.txt FILE…
///
/// Each line of --lines is a seed, each FILE as a whole; --keys are words to put in. An input that
/// ends the process, or takes too long, is written to fuzz-find.bin in the working folder.

#include <algorithm>
#include <chrono>
#include <csignal>
#include <fstream>
#include <string>
#include <vector>

#include "fuzz/fuzz.h"
#include "support/lay_cases.h"

namespace {

using pouchwright::test::Chance;

constexpr std::size_t kLongest = 20'000;
constexpr std::chrono::seconds kSlow{20};  // sanitizers and a busy machine included

struct Task {
  std::vector<std::string> seeds, keys;
  std::int64_t runs = 0;
  std::uint64_t chance = 1;
};

/// For the signal handler.
const std::string* current = nullptr;

void keep_find() {
  if (current == nullptr) return;
  std::ofstream("fuzz-find.bin", std::ios::binary) << *current;
  std::fprintf(stderr, "the input is in fuzz-find.bin (%zu bytes)\n", current->size());
}

extern "C" void keep_find_and_end(int signal) {
  keep_find();  // not safe in a handler, but the process is lost anyway
  std::signal(signal, SIG_DFL);
  std::raise(signal);
}

std::vector<std::string> lines_of(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  std::vector<std::string> lines;
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  if (lines.empty()) std::fprintf(stderr, "nothing in %s\n", path.c_str());
  return lines;
}

std::string whole(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  if (text.str().empty()) std::fprintf(stderr, "nothing in %s\n", path.c_str());
  return text.str();
}

Task task_of(int argc, char** argv) {
  Task task;
  const std::vector<std::string> words(argv + 1, argv + argc);
  for (std::size_t i = 0; i < words.size(); ++i) {
    const std::string& word = words[i];
    if (!word.starts_with("--")) {
      task.seeds.push_back(whole(word));
      continue;
    }
    const std::string value = i + 1 < words.size() ? words[++i] : "";
    if (word == "--runs") task.runs = std::stoll(value);
    if (word == "--chance") task.chance = std::stoull(value);
    if (word == "--keys") task.keys = lines_of(value);
    if (word == "--lines") {
      for (std::string& line : lines_of(value)) task.seeds.push_back(std::move(line));
    }
  }
  return task;
}

class Mutator {
 public:
  explicit Mutator(const Task& task) : task_(task), chance_(task.chance) {}

  std::string next() {
    std::string text = any_of(task_.seeds);
    const std::int64_t times = chance_.from_to(1, 6);
    for (std::int64_t i = 0; i < times; ++i) change(text);
    text.resize(std::min(text.size(), kLongest));
    return text;
  }

 private:
  const std::string& any_of(const std::vector<std::string>& all) {
    return all[static_cast<std::size_t>(
        chance_.from_to(0, static_cast<std::int64_t>(all.size()) - 1))];
  }
  std::size_t place_in(const std::string& text) {
    return static_cast<std::size_t>(chance_.from_to(0, static_cast<std::int64_t>(text.size())));
  }
  /// A stretch of `text`, mostly short.
  std::string piece_of(const std::string& text) {
    const std::int64_t longest = chance_.once_in(4) ? 300 : 12;
    return text.substr(place_in(text), static_cast<std::size_t>(chance_.from_to(1, longest)));
  }

  void change(std::string& text) {
    const std::size_t at = place_in(text);
    switch (chance_.from_to(1, 8)) {
      case 1:  // another byte
        if (at < text.size()) text[at] = static_cast<char>(chance_.from_to(0, 255));
        break;
      case 2:
        text.erase(at, piece_of(text).size());
        break;
      case 3:
        text.insert(at, piece_of(text));
        break;
      case 4:
        text.insert(at, piece_of(any_of(task_.seeds)));
        break;
      case 5:
        if (!task_.keys.empty()) text.insert(at, any_of(task_.keys));
        break;
      case 6:
        change_number(text, at);
        break;
      case 7:
        swap_lines(text);
        break;
      default:  // a key in place of what stands there
        if (!task_.keys.empty()) {
          const std::string& key = any_of(task_.keys);
          text.replace(at, key.size(), key);
        }
        break;
    }
  }

  /// The next digits after `at` become another number.
  void change_number(std::string& text, std::size_t at) {
    const std::size_t begin = text.find_first_of("0123456789", at);
    if (begin == std::string::npos) return;
    const std::size_t end = std::min(text.find_first_not_of("0123456789", begin), text.size());
    const std::int64_t most = chance_.once_in(3) ? 1'000'000'000'000 : 300;
    text.replace(begin, end - begin, std::to_string(chance_.from_to(0, most)));
  }

  void swap_lines(std::string& text) {
    const std::size_t begin = text.find('\n', place_in(text));
    if (begin == std::string::npos) return;
    const std::size_t middle = text.find('\n', begin + 1);
    if (middle == std::string::npos) return;
    const std::size_t end = text.find('\n', middle + 1);
    if (end == std::string::npos) return;
    const std::string first = text.substr(begin, middle - begin);
    const std::string second = text.substr(middle, end - middle);
    text.replace(begin, end - begin, second + first);
  }

  const Task& task_;
  Chance chance_;
};

/// False where it takes too long.
bool run(const std::string& input) {
  current = &input;
  const auto began = std::chrono::steady_clock::now();
  // Letters are handed over as bytes.
  LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(input.data()), input.size());
  if (std::chrono::steady_clock::now() - began < kSlow) return true;
  std::fprintf(stderr, "too slow\n");
  keep_find();
  return false;
}

}  // namespace

int main(int argc, char** argv) {
  const Task task = task_of(argc, argv);
  if (task.seeds.empty()) {
    std::fprintf(stderr, "no seeds\n");
    return 2;
  }
  std::signal(SIGABRT, keep_find_and_end);
  std::signal(SIGSEGV, keep_find_and_end);
  for (const std::string& seed : task.seeds) {
    if (!run(seed)) return 1;
  }
  Mutator mutator(task);
  for (std::int64_t i = 0; i < task.runs; ++i) {
    if (!run(mutator.next())) return 1;
  }
  std::printf("%zu seeds and %lld inputs made from them\n", task.seeds.size(),
              static_cast<long long>(task.runs));
  return 0;
}
