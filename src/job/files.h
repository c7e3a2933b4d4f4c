/// Files: read whole, written whole or not at all. The only place where the program touches the
/// disk.
///
///     std::string text = read_whole(path, shown, most);  // throws base::Failure
///     OutputFiles files;
///     files.add("template.pdf", [&] { return render::to_pdf(pages, info, fonts); });
///     write_whole(files.made());
#pragma once

#include <chrono>
#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace pouchwright::job {

/// The bytes of a regular file, at most `most` of them and one more, so that a caller sees that a
/// file is too large without reading it all. The path `-` is standard input. `shown` is how
/// messages name the file, `hint` the key of what to do then. Fails: throws base::Failure where it
/// is missing, no regular file, or cannot be read.
[[nodiscard]] std::string read_whole(const std::filesystem::path& path, const std::string& shown,
                                     std::size_t most, const char* hint = "file-cannot-read-hint");

/// As read_whole, but empty where there is no such file.
[[nodiscard]] std::optional<std::string> read_if_there(const std::filesystem::path& path,
                                                       const std::string& shown, std::size_t most);

/// What is there is kept. Fails: throws base::Failure where a regular file is.
void keep_what_is_there(const std::filesystem::path& path);

/// A file that a run makes: where it goes, and its bytes.
struct MadeFile {
  std::filesystem::path path;
  std::string bytes;
};

/// What a killed run left beside its goals is removed by the next one into that folder once it is
/// so old: no run takes so long.
inline constexpr std::chrono::hours kLeftOverAfter{1};

/// Files that a run can make, each of them only where it is wanted.
class OutputFiles {
 public:
  void add(std::filesystem::path path, std::string bytes);
  /// What `bytes` refers to must last until made().
  void add(std::filesystem::path path, std::function<std::string()> bytes);
  void add_all(OutputFiles others);
  [[nodiscard]] std::vector<std::filesystem::path> paths() const;
  /// In the order added, those of which `wants` says yes; without it all.
  [[nodiscard]] std::vector<MadeFile> made(
      const std::function<bool(const std::filesystem::path&)>& wants = {}) const;

 private:
  struct Planned {
    std::filesystem::path path;
    std::function<std::string()> bytes;
  };
  std::vector<Planned> files_;
};

/// Makes missing folders, and writes all beside their goal first, then renames one after the other,
/// so that each is the old one or the new one, whole. A link stays a link: what it leads to is
/// replaced. A device or pipe is written to as it is. An interrupt from the keyboard and a polite
/// end (SIGINT, SIGTERM, SIGHUP) come before the first rename or after the last one.
/// Fails: throws base::Failure; what was written beside is removed again.
void write_whole(const std::vector<MadeFile>& files);

/// The folder that holds patterns/, fonts/ and shared/: $POUCHWRIGHT_DATA, then
/// ../share/pouchwright beside the program, then the source folder compiled in; the first that has
/// patterns/. Never the working folder.
/// Fails: throws base::Failure where none has.
[[nodiscard]] std::filesystem::path data_folder();

}  // namespace pouchwright::job
