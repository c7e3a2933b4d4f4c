/// A job as its packet's code carries it: the text itself, a link that holds it, or both made
/// smaller and in numbered parts. The desk's page reads all of them (desk/page/codes.mjs).
///
///     linked_job("https://example.org/pouch", text);   // https://example.org/pouch#job=Y29uc3Ry…
///     in_parts(packed_job(text), 2);   // "# 1/2 0f3a66c1", a line's end, "#jobz=eNp…"; and the rest
///
/// The parts are numbered by a line of our own and not by the standard's structured append: most
/// telephones, and what a browser reads codes with, tell neither number nor order of those.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace pouchwright::job {

/// `#jobz=` and the text, smaller by RFC 1950 (zlib, which has a checksum of its own), in the
/// letters of RFC 4648, section 5 (base64url), without padding.
/// Fails: throws std::bad_alloc.
[[nodiscard]] std::string packed_job(std::string_view text);

/// The page's address with the job in it: `#job=` and the text in base64url, or packed_job() where
/// that is shorter. Requires: `page` has no fragment. Fails: throws std::bad_alloc.
[[nodiscard]] std::string linked_job(const std::string& page, std::string_view text);

/// `letters` in `count` parts of about one length, each behind a line `# 2/3 0f3a66c1`: its number,
/// how many there are, and a mark that the parts of one text share.
/// Requires: ASCII; 1 <= count <= letters.
[[nodiscard]] std::vector<std::string> in_parts(std::string_view letters, int count);

}  // namespace pouchwright::job
