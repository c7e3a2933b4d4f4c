#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <exception>
#include <string>

#include "cli/arguments.h"
#include "job/job.h"

namespace {

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

Outcome run(int argc, const char* const* argv) {
  try {
    const pouchwright::job::Data data(pouchwright::job::data_folder());
    const auto asked = pouchwright::cli::read_arguments(argc, argv, data.words());
    return asked.options ? pouchwright::job::run_job(*asked.options, data) : asked.answer;
  } catch (const std::exception& failure) {
    // Without the words only a failure's own name is left to tell.
    return pouchwright::job::refused({}, failure);
  }
}

}  // namespace

int main(int argc, char** argv) {
  std::signal(SIGPIPE, SIG_IGN);
  const Outcome outcome = run(argc, argv);
  (void)write_all(STDERR_FILENO, outcome.err);
  const bool said = write_all(STDOUT_FILENO, outcome.out);
  return static_cast<int>(said ? outcome.status : Status::machine_refused);
}
