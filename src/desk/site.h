/// What is the same for everybody: the page, its styles and scripts, the constructions' pictures, and
/// the jobs to begin with.
/// Made once, when the desk opens.
///
///     Site site(data);
///     if (const Answer* answer = site.find("/")) …
#pragma once

#include <map>
#include <string>
#include <string_view>

#include "desk/answer.h"
#include "job/data.h"

namespace pouchwright::desk {

class Site {
 public:
  /// Fails: throws base::Failure where the program's own data are at fault.
  explicit Site(const job::Data& data);

  /// The answer to a GET of `path`, or nothing.
  [[nodiscard]] const Answer* find(std::string_view path, bool takes_gzip = false) const;

 private:
  std::map<std::string, Answer, std::less<>> answers_;
  std::map<std::string, Answer, std::less<>> small_;  ///< the same, for those that take gzip
};

}  // namespace pouchwright::desk
