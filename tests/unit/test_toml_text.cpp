#include <doctest/doctest.h>

#include <stdexcept>
#include <string>

#include "input/toml_text.hpp"
#include "mendworth/diagnostic.hpp"

using namespace mendworth;
using namespace mendworth::input;

namespace {

const std::string bench = R"toml(# a case
[device]
name = "radio # 1"          # its name
age_years = { low = 2, high = 6 }   # nobody knows

[[part]]
name = "knob"
  [[part.offer]]
  prices = [
    { from = 1, each = 0.45 },   # single
    { from = 10, each = 0.3 },
  ]
[[part]]
name = "cap"
# the second one has two
[[part.candidate]]
name = "a"
[[part.candidate.offer]]
price = 1
[[part.candidate]]
name = "b"
nominal = { "stem height" = 4.3 }

[labour]  # by the hour
rate_per_hour = 20
)toml";

std::string with(const std::string& key, const std::string& value) {
  return TomlText(bench).with_value(key, value);
}

/// `bench` with one piece of it replaced.
std::string bench_but(const std::string& was, const std::string& is) {
  std::string text = bench;
  const std::size_t at = text.find(was);
  REQUIRE(at != std::string::npos);
  return text.replace(at, was.size(), is);
}

}  // namespace

TEST_CASE("a value is replaced where it stands, and its comment stays") {
  CHECK(with("device.name", "\"x\"") == bench_but("\"radio # 1\"", "\"x\""));
  CHECK(with("device.age_years", "4") == bench_but("{ low = 2, high = 6 }", "4"));
  CHECK(with("device.age_years.low", "3") == bench_but("low = 2", "low = 3"));
  CHECK(with("part.1.offer.1.prices.2.each", "0.25") == bench_but("each = 0.3 ", "each = 0.25 "));
  CHECK(with("part.2.candidate.1.offer.1.price", "2") == bench_but("price = 1\n", "price = 2\n"));
  CHECK(with("labour.rate_per_hour", "0") == bench_but("rate_per_hour = 20", "rate_per_hour = 0"));
}

TEST_CASE("a new key comes behind the last line of its table, a new table at the end") {
  CHECK(with("labour.skill", "\"hobbyist\"") == bench + "skill = \"hobbyist\"\n");
  CHECK(with("device.scrap", "2") == bench_but("# nobody knows\n", "# nobody knows\nscrap = 2\n"));
  CHECK(with("part.2.candidate.1.fit", "0.9") == bench_but("name = \"a\"\n", "name = \"a\"\nfit = 0.9\n"));
  CHECK(with("part.1.offer.1.prices.1.more", "1") == bench_but("each = 0.45 }", "each = 0.45, more = 1 }"));
  CHECK(with("rest.remaining_years", "5") == bench + "\n[rest]\nremaining_years = 5\n");
  CHECK(with("risk.second_attempt.minutes", "30") == bench + "\n[risk.second_attempt]\nminutes = 30\n");
  CHECK(TomlText("a.b = 1").with_value("a.c", "2") == "a.b = 1\na.c = 2\n");
  CHECK(TomlText("[a.b]\nc = 1\n").with_value("a.d", "2") == "[a.b]\nc = 1\n\n[a]\nd = 2\n");
}

TEST_CASE("what is taken out takes its line, its item or its whole section along") {
  const TomlText text(bench);
  CHECK(text.without("device.age_years") ==
        bench_but("age_years = { low = 2, high = 6 }   # nobody knows\n", ""));
  CHECK(text.without("part.1.offer.1.prices.2") == bench_but("{ from = 10, each = 0.3 },", ""));
  CHECK(text.without("part.1.offer.1.prices.1") ==
        bench_but("{ from = 1, each = 0.45 },   # single", "# single"));
  CHECK(text.without("device.age_years.low") == bench_but("low = 2, high", "high"));
  CHECK(text.without("part.2.candidate.1") ==
        bench_but("[[part.candidate]]\nname = \"a\"\n[[part.candidate.offer]]\nprice = 1\n", ""));
  CHECK(text.without("no.such.key") == bench);
}

TEST_CASE("a new item comes behind those there are, and stays within its owner") {
  const TomlText text(bench);
  CHECK(text.with_item("part.1.offer.1.prices", {{"from", "50"}, {"each", "0.2"}}, true) ==
        bench_but("each = 0.3 }", "each = 0.3 }, { from = 50, each = 0.2 }"));
  CHECK(text.with_item("part.1.offer", {{"price", "1"}}, false) ==
        bench_but("  ]\n", "  ]\n\n[[part.offer]]\nprice = 1\n"));
  CHECK(text.with_item("supplier", {{"name", "\"s\""}}, false) == bench + "\n[[supplier]]\nname = \"s\"\n");
  CHECK(text.with_item("part.2.candidate", {}, false) ==
        bench_but("4.3 }\n", "4.3 }\n\n[[part.candidate]]\n\n"));
}

TEST_CASE("keys that lead nowhere are refused, and so is what is no TOML") {
  const TomlText text(bench);
  CHECK_THROWS_AS((void)text.with_value("part.3.name", "1"), std::invalid_argument);
  CHECK_THROWS_AS((void)text.with_value("device", "1"), std::invalid_argument);
  CHECK_THROWS_AS((void)text.with_value("device.name.first", "1"), std::invalid_argument);
  CHECK_THROWS_AS((void)text.with_item("device.name", {}, false), std::invalid_argument);
  CHECK_THROWS_AS((void)TomlText{"a = "}, InputError);
}

TEST_CASE("texts of many lines, quotes and hashes within texts end where TOML ends them") {
  const std::string text = "a = '''x\n[b] # '' ''''  # c\n\"k 1\" = 'it''' # d\n[t]\nb = \"\\\"#\" # e\n";
  const TomlText read("a = '''x\n[b] # '' ''''  # c\nb = \"\\\"#\" # e\n");
  CHECK(read.with_value("a", "1") == "a = 1  # c\nb = \"\\\"#\" # e\n");
  CHECK(read.with_value("b", "1") == "a = '''x\n[b] # '' ''''  # c\nb = 1 # e\n");
  CHECK_THROWS_AS((void)TomlText{text}, InputError);  // a text in single quotes holds none
}

TEST_CASE("a text is quoted so that it comes back as it was") {
  const std::string odd = "a \"b\" \\ c\n\x01 \xC3\xA9";
  const TomlText text("x = " + toml_quoted(odd));
  CHECK(text.written(*text.find("x")) == "\"a \\\"b\\\" \\\\ c\\u000A\\u0001 \xC3\xA9\"");
}
