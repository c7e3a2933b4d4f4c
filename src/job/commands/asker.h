/// Answers for `new`: options first, then whoever can be asked, then the usual.
///
///     const Asker ask(run);
///     const std::string count = ask.count({"--pouches", answers.pouches, "new-ask-pouches", "1"}, 1, 500);
///
/// Inside `job` only. Not for what is asked, and in which order (see interview.h).
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "base/message.h"
#include "job/run.h"

namespace pouchwright::job {

struct ChoiceOf {
  std::string name;
  std::string label;  ///< what is shown beside it; may be empty
};

/// One question: by which option it is answered, how it is put, and what counts as an answer.
struct Question {
  const char* option;
  const std::optional<std::string>& given;
  base::Message put;
  std::string standard;  ///< what Enter takes
  base::Message hint;
  std::function<bool(const std::string&)> takes;
  std::vector<ChoiceOf> choices{};
};

struct Counted {
  const char* option;
  const std::optional<std::string>& given;
  const char* key;
  const char* standard;
};

class Asker {
 public:
  /// Fails: a UsageFault where no option answers anything and nobody can be asked.
  explicit Asker(const Run& run);

  [[nodiscard]] bool asks() const { return asks_; }

  /// Fails: a UsageFault where an option's text is no answer, or the answers end.
  [[nodiscard]] std::string answer(const Question& question) const;
  [[nodiscard]] std::string choice(const char* option, const std::optional<std::string>& given,
                                   base::Message put, const std::string& standard,
                                   std::vector<ChoiceOf> choices) const;
  [[nodiscard]] std::string count(const Counted& of, int least, int most) const;
  /// Requires: somebody can be asked. Enter means no.
  [[nodiscard]] bool is_sure(base::Message put) const;

 private:
  [[nodiscard]] std::string asked(const Question& question) const;
  [[nodiscard]] std::string put_as(const Question& question) const;

  const Run& run_;
  bool asks_;
};

}  // namespace pouchwright::job
