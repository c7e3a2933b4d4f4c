/// What the page asks for, answered by the commands: an adapter over run_job, from value to value.
///
///     Answer answer = worked({"POST", "/api/size?units=in", job_text, ""}, data);
///
/// The routes, all by POST:
///     /api/COMMAND          the command's report, byte for byte its --json; the body is the job
///     /api/COMMAND/FILE     a file that the command makes, byte for byte
///     /api/edit?PATH=TYPED  the job with values changed, what there is to say of it, and its main
///                           pictures (edit.h)
///     /api/folding, /api/pages/FILE  for a screen only (call.h)
///     /api/several?of=ROUTE&of=ROUTE  the answers of several routes as parts of a form by their
///                           names, and a part `status`, JSON, with the status of each; what one run
///                           of a command can answer is answered by one
///     /api/svg.zip          the SVG files of all commands that make some
///     /print                a plain form's fields, for those without scripts; answers with a PDF
/// With `names=words` what is said calls a value as people do; else, as the command, by its key.
/// The query takes what the command line has: units, liners, other-liner, remnant, paper, square,
/// tolerance, set=PATH=VALUE, lines=cut, page=test, picture=finished or wordless, form=text for the
/// table instead of the report, and form=said for the report with the table's lines as its `said`.
///
/// Not for HTTP itself (server.h) nor for what is the same for everybody (site.h).
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "job/data.h"
#include "job/job.h"

namespace pouchwright::desk {

struct Request {
  std::string method;
  std::string target;  ///< path and query as sent
  std::string body;
  bool takes_gzip = false;  ///< whoever asks
};

struct Answer {
  int status = 200;
  std::string type = "text/plain; charset=utf-8";
  std::string body;
  std::string save_as;   ///< a file name, where a browser is to save the body; never user text
  std::string encoding;  ///< of the body: `gzip`, or none
  std::string allow;     ///< with status 405: the methods that there are
};

/// Runs what `request` asks for. Jobs name constructions, materials and papers by name only, and no
/// file is written. Status: 200; 422 the job is wrong, with the report of its faults; 400 an option
/// or form that cannot be read; 404; 405; 500 the machine refused, or our own bug; 503 where
/// `goes_on`, asked between the parts of the work, says no. Empty: to the end.
[[nodiscard]] Answer worked(const Request& request, const job::Data& data,
                            const std::function<bool()>& goes_on = {});

/// What a run comes to, told to a browser.
[[nodiscard]] Answer told(const job::Outcome& outcome, const base::Voice& words);

struct Part {
  std::string name, type;  ///< without quotes and line ends
  std::string_view body;
};
/// Parts as a form has them (RFC 7578), which browsers take apart by themselves.
[[nodiscard]] Answer in_parts(const std::vector<Part>& parts);

/// A refusal in words.
[[nodiscard]] Answer refusal(int status, const base::Message& why, const base::Voice& words);

}  // namespace pouchwright::desk
