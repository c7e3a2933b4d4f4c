// A job's text for codes. Sources: RFC 4648, section 10, for base64's test vectors (section 5 has the
// letters of addresses); RFC 1950 for a packed text's head; CRC-32's check value is that of "123456789".
#include "job/job_text/carried.h"

#include <doctest/doctest.h>

#include "job/commands/job_code.h"

using namespace pouchwright::job;
using pouchwright::draw::JobCode;

namespace {

const std::string kPage = "https://example.org/p";

std::string letters_of(const std::string& text) {
  return linked_job("", text).substr(std::string("#job=").size());
}

/// Text that does not pack: numbers of a generator (Lehmer's, modulo 2^31 - 1), as letters.
std::string noise(std::size_t size) {
  std::string text;
  for (unsigned long long state = 7; text.size() < size;) {
    state = state * 48271 % 2147483647;
    text += static_cast<char>('!' + state % 94);
  }
  return text;
}

JobCode codes(const std::string& text, const std::string& page = "") {
  return job_in_codes(text, page, 137);
}

}  // namespace

TEST_CASE("a link holds the text in base64url without padding") {
  CHECK(letters_of("f") == "Zg");
  CHECK(letters_of("fo") == "Zm8");
  CHECK(letters_of("foo") == "Zm9v");
  CHECK(letters_of("foob") == "Zm9vYg");
  CHECK(letters_of("fooba") == "Zm9vYmE");
  CHECK(letters_of("foobar") == "Zm9vYmFy");
  CHECK(letters_of("\xfb\xff\xbf") == "-_-_");
  CHECK(linked_job(kPage, "foobar") == kPage + "#job=Zm9vYmFy");
}

TEST_CASE("a link to a text that packs is packed") {
  const std::string link = linked_job(kPage, std::string(300, 'a'));
  CHECK(link.starts_with(kPage + "#jobz="));
  CHECK(link.size() < 60);
  // CM 8, CINFO 7, level 3: 78 DA in base64url.
  CHECK(packed_job("foo").starts_with("#jobz=eN"));
}

TEST_CASE("parts are numbered, bear one mark, and make the whole again") {
  const auto parts = in_parts("123456789", 2);
  CHECK(parts == std::vector<std::string>{"# 1/2 cbf43926\n1234", "# 2/2 cbf43926\n56789"});
  CHECK(in_parts("abc", 3).at(2).ends_with("\nc"));
}

TEST_CASE("a text that fits is readable, a longer one packed, a still longer one in parts") {
  CHECK(codes(noise(1370)).holds == JobCode::Holds::text);
  CHECK(codes(noise(1370)).codes.size() == 1);
  const JobCode packed = codes(std::string(1371, 'a'));
  CHECK(packed.holds == JobCode::Holds::packed);
  CHECK(packed.codes.size() == 1);
  const JobCode parts = codes(noise(2500));
  CHECK(parts.holds == JobCode::Holds::packed);
  CHECK(parts.codes.size() > 1);
  CHECK(parts.codes.size() <= kMostCodes);
}

TEST_CASE("a text that takes too many codes takes none") {
  CHECK(codes(noise(65536)).codes.empty());
  CHECK(job_in_codes("title = 1", "", 20).codes.empty());
  CHECK_FALSE(job_in_codes("title = 1", "", 21).codes.empty());
}

TEST_CASE("where the group has a page the code is a link to it") {
  CHECK(codes("title = 1", kPage).holds == JobCode::Holds::link);
  CHECK(codes("title = 1", kPage).page == kPage);
  CHECK(codes(noise(2500), kPage).holds == JobCode::Holds::packed);
}
