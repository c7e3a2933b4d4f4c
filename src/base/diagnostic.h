/// What is wrong, where, and what to do: the one form in which every layer reports a fault.
///
///     diagnostics.error(seal.place,
///                       {"seal-not-above-reach", {{"seal", exact(seal)}, {"reach", exact(reach)}}});
///     for (const auto& d : diagnostics.sorted()) std::cerr << to_text(d, voice, sources);
///
/// User data at fault: collected here, never thrown. The machine at fault: `Failure` is thrown.
#pragma once

#include <map>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/message.h"
#include "base/voice.h"

namespace pouchwright::base {

/// A stretch of a file. Lines and columns count from 1, columns in code points; `end_column` is one
/// past the last. Line 0 means the file as a whole; an empty `file` means nowhere in particular.
struct Place {
  std::string file;
  int line = 0;
  int column = 0;
  int end_column = 0;

  bool operator==(const Place&) const = default;
};

/// A value together with the place it was read from.
template <class T>
struct Placed {
  T value{};
  Place place;

  bool operator==(const Placed&) const = default;
};

/// A note tells what is always so: nothing is to be done about it.
enum class Severity { error, warning, note };

/// A value that mends a fault where it is put at `path`: a length (an exact one), a count, or what is
/// typed there.
struct Remedy {
  std::string path;
  std::optional<Value> value{};  ///< absent: the value there is taken out
  Message words{};               ///< what it does; without a key: that the value is set

  bool operator==(const Remedy&) const = default;
};

struct Diagnostic {
  Severity severity = Severity::error;
  Place place;
  Message message;
  std::vector<Message> hints{};
  std::string path{};       ///< of the value of the job that it is about; empty: what is at `place`
  bool is_missing = false;  ///< a value that is needed and not there
  bool leaks = false;       ///< the pouch would not hold water
  std::optional<Remedy> remedy{};

  bool operator==(const Diagnostic&) const = default;
};

/// The remedy's value as a person types it, lengths with their unit; empty where it is taken out.
[[nodiscard]] std::string typed(const Remedy& remedy, const Voice& voice);
/// What the remedy does: "set the seal width to 16 mm".
[[nodiscard]] Message told(const Remedy& remedy);

/// The faults found so far. Keeps every warning and note, and at most kMost errors; further errors are
/// counted, not kept.
class Diagnostics {
 public:
  static constexpr int kMost = 50;

  void add(Diagnostic diagnostic);
  void error(Place place, Message message, std::vector<Message> hints = {});
  void warning(Place place, Message message, std::vector<Message> hints = {});
  void note(Place place, Message message, std::vector<Message> hints = {});

  /// Adds what another collection kept, in its order, and counts what it did not keep.
  void add_all(const Diagnostics& others);

  [[nodiscard]] bool has_errors() const { return errors_ > 0; }
  /// How many errors were found beyond kMost.
  [[nodiscard]] int not_kept() const;
  /// Every fault kept: of the warnings those first by which the pouch leaks; ordered by file, line and column; those at one place in the order found.
  /// The command line's own places (`--set …`) come last, those without a place after them.
  [[nodiscard]] std::vector<Diagnostic> sorted() const;
  [[nodiscard]] std::vector<Diagnostic> sorted(Severity only) const;

 private:
  std::vector<Diagnostic> kept_;
  int errors_ = 0;
};

/// The texts of the files that places may name, for showing the line at fault.
using Sources = std::map<std::string, std::string, std::less<>>;

/// `FILE:LINE:COLUMN: error: …`, the source line with a caret below it, then `hint: …` lines, each
/// ended by a newline. Without a line: `FILE: error: …`; without a file: `error: …`. The source
/// line is left out if `sources` lack it, if it is empty or longer than 200 code points.
/// Control characters, bytes that are no UTF-8 and marks that turn the writing direction come out
/// as `?`, wherever they are from, so that a file cannot drive the terminal.
[[nodiscard]] std::string to_text(const Diagnostic& diagnostic, const Voice& voice,
                                  const Sources& sources);

/// The machine refused: a file, a font, the disk or a library. Caught in `job` only.
class Failure : public std::runtime_error {
 public:
  explicit Failure(Diagnostic diagnostic)
      : std::runtime_error(diagnostic.message.key), diagnostic_(std::move(diagnostic)) {}
  /// A failure about `file` as a whole.
  Failure(std::string file, Message message, std::vector<Message> hints = {});

  [[nodiscard]] const Diagnostic& diagnostic() const { return diagnostic_; }

 private:
  Diagnostic diagnostic_;
};

/// The known word nearest to `word` by edit distance (two neighbours swapped count once), if it is
/// near enough to be meant: one letter may differ, or up to a third of them, and one must be
/// shared. Of words equally near the first; empty if none is near.
[[nodiscard]] std::string nearest(std::string_view word, const std::vector<std::string>& known);

}  // namespace pouchwright::base
