#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <cstring>
#include <exception>
#include <string>

#include "base/diagnostic.h"
#include "cli/arguments.h"
#include "cli/terminal.h"
#include "job/job.h"

namespace {

using pouchwright::base::Failure;
using pouchwright::base::Voice;
using pouchwright::base::Words;
using pouchwright::job::Outcome;
using pouchwright::job::Status;

/// Writes all of `text`; false where the other end takes no more.
bool write_all(int descriptor, const std::string& text) {
  std::size_t done = 0;
  while (done < text.size()) {
    const ssize_t count = ::write(descriptor, text.data() + done, text.size() - done);
    if (count < 0 && errno == EINTR) continue;
    if (count <= 0) return false;
    done += static_cast<std::size_t>(count);
  }
  return true;
}

/// A closed standard stream would give its number to the next file that is opened, and what is
/// said to people would go into that file. Opened the wrong way round, it refuses.
void hold_standard_streams() {
  for (const int stream : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO}) {
    const bool is_closed = ::fcntl(stream, F_GETFD) < 0 && errno == EBADF;
    if (is_closed) (void)::open("/dev/null", stream == STDIN_FILENO ? O_WRONLY : O_RDONLY);
  }
}

/// Nothing is said to someone who has stopped listening: the other end of a pipe is closed.
Outcome not_said(const Words& words, int error) {
  if (error == EPIPE) return {Status::machine_refused, "", "", {}};
  return pouchwright::job::refused(
      words,
      Failure(Voice(words).say({"standard-output"}),
              {"file-cannot-write", {{"why", std::strerror(error)}}}, {{"standard-output-hint"}}));
}

Outcome run(int argc, const char* const* argv, Words& words) {
  try {
    const auto folder = pouchwright::job::data_folder();
    words = pouchwright::job::load_words(folder);
    pouchwright::job::Data data(folder, words);
    if (const char* group = std::getenv("POUCHWRIGHT_GROUP"); group && *group != '\0') {
      data.use_group(group);
    }
    const std::string tongue = pouchwright::cli::language();
    if (const auto named = pouchwright::base::language_named(tongue, data.languages())) {
      data.speak(*named);
      words = data.words();
    }
    const auto asked = pouchwright::cli::read_arguments(argc, argv, words);
    if (asked.desk) {
      return pouchwright::desk::serve(
          *asked.desk, data, [](const std::string& text) { (void)write_all(STDOUT_FILENO, text); });
    }
    if (!asked.options) return asked.answer;
    pouchwright::job::JobOptions options = *asked.options;
    options.ask = pouchwright::cli::terminal_questions();
    options.country = pouchwright::cli::country();
    return pouchwright::job::run_job(options, data);
  } catch (const std::exception& failure) {
    return pouchwright::job::refused(words, failure);
  }
}

}  // namespace

int main(int argc, char** argv) {
  // A closed pipe, and a file larger than allowed, are told of where they are written to.
  std::signal(SIGPIPE, SIG_IGN);
  std::signal(SIGXFSZ, SIG_IGN);
  hold_standard_streams();
  Words words;
  Outcome outcome = run(argc, argv, words);
  (void)write_all(STDERR_FILENO, outcome.err);
  if (!write_all(STDOUT_FILENO, outcome.out)) {
    outcome = not_said(words, errno);
    (void)write_all(STDERR_FILENO, outcome.err);
  }
  return static_cast<int>(outcome.status);
}
