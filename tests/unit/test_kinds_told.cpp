#include <doctest/doctest.h>

#include <string>

#include "input/file_kind.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"
#include "rates/read_rates.hpp"
#include "support/example_files.hpp"

using namespace mendworth;

namespace {

/// What reading it as a case says.
std::string said(const std::string& text) {
  try {
    static_cast<void>(read_case(text, "f", built_in_rates()));
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}

}  // namespace

TEST_CASE("a record of past use with a note on each row is no drawer") {
  CHECK(input::kind_of("date,pieces,note\n2025-01-01,1,\n") == input::FileKind::past_use);
  CHECK(input::kind_of(test::example_text("tables/used-keys.csv")) == input::FileKind::past_use);
  CHECK(input::kind_of("candidate,pieces,note\nbutton,1,\n") == input::FileKind::drawer);
}

TEST_CASE("a table of devices given as a case is said to be a table, not TOML with mistakes") {
  const std::string words = said(test::example_text("tables/scanners.csv"));
  CHECK(words.find("this is a table of columns, a case is wanted here") != std::string::npos);
  CHECK(words.find("mendworth rows CASE TABLE") != std::string::npos);
  CHECK(words.find("TOML") == std::string::npos);
  // Neither is any other text that is no case.
  for (const char* other : {R"({"age": 4, "price": 3})", "age_years = [1, 2]\n", "hello\n"})
    CHECK(said(other).find("this is a table") == std::string::npos);
}

TEST_CASE("a case that lies in a folder of rates is said to be one, in one message") {
  const RatesFile file{"rates/case.toml", test::example_text("label-printer.toml")};
  RateBook book = built_in_rates();
  std::string words;
  try {
    overlay_rates_files(book, {file}, "rates");
  } catch (const InputError& error) {
    REQUIRE(error.problems().size() == 1);
    words = error.what();
  }
  CHECK(words.find("this is a case, a table of rates is wanted here") != std::string::npos);
}
