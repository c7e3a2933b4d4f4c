/// What is the same for everybody: the page, its styles and scripts, the constructions' pictures, and
/// the jobs to begin with.
/// Made once, when the desk opens.
///
///     Site site(data);
///     if (const Answer* answer = site.find("/")) …
#pragma once

#include <map>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "desk/answer.h"
#include "job/data.h"

namespace pouchwright::desk {

class Site {
 public:
  /// `data` must outlive this. Fails: throws base::Failure where the program's own data are at fault.
  explicit Site(const job::Data& data);

  /// The answer to a GET of `path`, or nothing.
  [[nodiscard]] const Answer* find(std::string_view path, bool takes_gzip = false) const;
  /// The page in the language that is wanted most of those that there are: `wanted` is a tag, or a
  /// list as a browser sends it (RFC 9110, 12.5.4: `es-MX,es;q=0.9,en;q=0.5`). It is made when it is
  /// first asked for.
  [[nodiscard]] const Answer& page_for(std::string_view wanted, bool takes_gzip = false) const;

 private:
  struct Pages {
    Answer whole, small;
  };
  const job::Data& data_;
  nlohmann::ordered_json list_;
  mutable std::map<std::string, Pages> pages_;
  std::map<std::string, Answer, std::less<>> answers_;
  std::map<std::string, Answer, std::less<>> small_;  ///< the same, for those that take gzip
};

}  // namespace pouchwright::desk
