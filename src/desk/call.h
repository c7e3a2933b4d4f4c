/// Which run of which command a route asks for, and what of that run.
///
///     auto call = read_call({"/api/lay/lay.svg", {}});
///     Outcome outcome = job::run_job(options_of(*call, job_text, goes_on), data);
///
/// A route is `COMMAND` or `COMMAND/FILE`, and, for what only the page is shown: `folding`, the steps
/// with how far each is a movement, and `folding/3.svg?at=0.4`, the third step's view, two fifths of
/// its movement done; `pages/packet.pdf`, the pages of what a command prints, and
/// `pages/packet.pdf/2.png`, the second of them as a picture.
///
/// Not for what changes the job's text (edit.h).
#pragma once

#include <functional>
#include <optional>
#include <string>

#include "desk/target.h"
#include "job/command_table.h"
#include "job/job.h"

namespace pouchwright::desk {

struct Call {
  const job::CommandRow* row = nullptr;
  job::Shown shown = job::Shown::results;
  std::string file;  ///< empty: the report
  Fields query;
  /// `names=words` in the query: for whoever sees no file and no keys.
  base::FieldNames names = base::FieldNames::keys;
};

/// What comes along with what is asked for.
struct Sent {
  std::string job;
  Fields more;  ///< as if they stood in the query
};

/// A job alone; with `sent=fields` in the query, which is taken out, a form of `job` and whatever is
/// too long for an address, as a `record`.
/// Fails: empty where the body is no such form.
[[nodiscard]] std::optional<Sent> read_sent(Fields& query, const std::string& body);

/// A job's name in places, as `job.toml:3:9`.
inline constexpr const char* kJobName = "job.toml";

/// Fails: empty where the route leads nowhere.
[[nodiscard]] std::optional<Call> read_call(const Target& target);

/// Does `names=words` stand in the query? It is taken out.
[[nodiscard]] base::FieldNames take_names(Fields& query);

/// Is one run enough for both?
[[nodiscard]] bool is_same_run(const Call& a, const Call& b);

/// Options of every run: nothing is written, nothing is named by its path.
[[nodiscard]] job::JobOptions options_for(const job::CommandRow& row, std::string job,
                                          const std::function<bool()>& goes_on);

/// The same as the call has them. Fails: empty where its query cannot be read.
[[nodiscard]] std::optional<job::JobOptions> options_of(const Call& call, std::string job,
                                                        const std::function<bool()>& goes_on);

}  // namespace pouchwright::desk
