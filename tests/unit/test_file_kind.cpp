#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

#include "cli/problem_text.hpp"
#include "input/file_kind.hpp"
#include "input/suggest.hpp"
#include "mendworth/bulk.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/drawer.hpp"
#include "mendworth/history.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/shop.hpp"

using namespace mendworth;
using namespace mendworth::input;

namespace {

std::string content(const std::string& path) {
  std::ostringstream text;
  text << std::ifstream(std::string(MENDWORTH_SOURCE_DIR) + "/" + path).rdbuf();
  REQUIRE_FALSE(text.str().empty());
  return text.str();
}

const std::string drawer = "candidate,pieces,since,note\nbutton,3,,\n";
const std::string history = "age_hours;state\n12;failed\n";
const std::string quotation = "candidate,from,each\nbutton,1,0.5\n";

/// The problems of reading a text, as messages.
template <class Read>
std::string problems(Read read) {
  try {
    static_cast<void>(read());
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}

std::string case_problems(const std::string& text) {
  return problems([&] { return read_case(text, "f", built_in_rates()); });
}

}  // namespace

TEST_CASE("a file is known by its sections or its columns, with errors or without") {
  CHECK(kind_of(starter_case(false)) == FileKind::case_file);
  CHECK(kind_of(starter_case(true)) == FileKind::case_file);
  CHECK(kind_of("[device]\nname = \"open") == FileKind::case_file);
  CHECK(kind_of(starter_shop()) == FileKind::shop);
  CHECK(kind_of(content("rates/lives.toml")) == FileKind::rates);
  CHECK(kind_of(content("rates/defaults.toml")) == FileKind::rates);
  CHECK(kind_of(drawer) == FileKind::drawer);
  CHECK(kind_of("\xEF\xBB\xBF\"Candidate\"\t\"Pieces\"\r\n") == FileKind::drawer);
  CHECK(kind_of("box #,candidate,pieces\n") == FileKind::drawer);
  CHECK(kind_of(history) == FileKind::history);
  CHECK(kind_of(quotation) == FileKind::quotation);
  CHECK(kind_of("Date;pieces;part\n2025-01-01;1;button\n") == FileKind::past_use);
  for (const char* text :
       {"", "\n", "hello", "a,b,c\n1,2,3\n", "[nothing]\n", "candidate", "{\"schema\": 1}"})
    CHECK(kind_of(text) == FileKind::unknown);
  for (const auto& entry :
       std::filesystem::directory_iterator(std::string(MENDWORTH_SOURCE_DIR) + "/examples")) {
    if (entry.path().extension() != ".toml") continue;
    CAPTURE(entry.path().string());
    const bool shop = entry.path().filename() == "shop.toml";
    CHECK(kind_of(content("examples/" + entry.path().filename().string())) ==
          (shop ? FileKind::shop : FileKind::case_file));
  }
}

TEST_CASE("a file of another kind is said to be that, in one message") {
  CHECK(case_problems(starter_shop()) ==
        "f: error: this is a shop file, a case is wanted here (a shop file goes to 'mendworth quote CASE "
        "--shop')");
  CHECK(case_problems(drawer).find("this is a drawer, a case is wanted here") != std::string::npos);
  CHECK(case_problems(content("rates/skills.toml")).find("this is a table of rates") != std::string::npos);
  CHECK(problems([] {
          return read_shop(starter_case(false), "f", built_in_rates());
        }).find("this is a case, a shop file is wanted here") != std::string::npos);
  CHECK(problems([] { return read_drawer(history, "f"); }).find("this is a history, a drawer") !=
        std::string::npos);
  CHECK(problems([] { return read_drawer(starter_case(false), "f"); }).find("this is a case, a drawer") !=
        std::string::npos);
  CHECK(problems([] { return read_history(quotation, "f", {}); }).find("this is a quotation, a history") !=
        std::string::npos);
  CHECK(problems([] { return read_quotation(drawer, "f", {}); }).find("this is a drawer, a quotation") !=
        std::string::npos);
  // A case with a shop's sections in it is a case with problems.
  CHECK(case_problems("[shop]\nname = \"x\"\n[tax]\nrate = 1\n[device]\n").find("this is") ==
        std::string::npos);
}

TEST_CASE("keys that people try get the right one") {
  const std::string text = starter_case(false);
  const auto with = [&](const std::string& from, const std::string& to) {
    std::string changed = text;
    changed.replace(changed.find(from), from.size(), to);
    return case_problems(changed);
  };
  CHECK(with("age_years = 6", "age = 6") == "f:8:1: error: device.age: unknown key (write age_years)");
  CHECK(with("class =", "price = 0.4\nclass =") ==
        "f:20:1: error: part.1.price: unknown key (write price under [[part.offer]])");
  CHECK(with("rate_per_hour = 12", "rate_per_hour = 12\nhours = 1")
            .find("write case_minutes, visit_minutes and position_minutes") != std::string::npos);
  CHECK(with("[labour]", "[labor]").find("[labour]") != std::string::npos);
  CHECK(key_meant("part.2.offer", "MOQ") == "write least");
  CHECK(key_meant("part.2.offer", "price") == "");
  CHECK(key_meant("nothing", "age") == "");
}

TEST_CASE("a name of another kind gets those that are near") {
  const std::vector<std::string> classes = names_of(built_in_rates().lives);
  CHECK(suggestion("button", classes) == "near are: membrane-key, rubber-dome, tactile-switch");
  CHECK(suggestion("Fader", classes) == "near are: slide-potentiometer, studio-slide-potentiometer");
  CHECK(suggestion("fans", {"sleeve-fan", "ball-bearing-fan"}, "x") ==
        "known are: sleeve-fan, ball-bearing-fan");
  CHECK(suggestion("fan", classes) == "near are: ball-bearing-fan, sleeve-fan");
  CHECK(related("usb", classes).size() == 4);
  CHECK(related("xyz", classes).empty());
  CHECK(related("a", classes).empty());  // in nearly every name
  CHECK(case_problems([] {
          std::string text = starter_case(false);
          const std::string from = "class = \"tactile-switch\"";
          return text.replace(text.find(from), from.size(), "class = \"knob\"");
        }())
            .find("near are: carbon-potentiometer, conductive-potentiometer, rotary-encoder") !=
        std::string::npos);
}

TEST_CASE("a message shows the line with a mark under its column") {
  const std::string text = "[device]\nname = \"x\"\n\tcurrency = 3\n";
  std::string shown;
  try {
    static_cast<void>(read_case(text, "f", built_in_rates()));
  } catch (const InputError& error) {
    shown = cli::problems_text(error.problems(), 80);
  }
  CHECK(shown.find("f:3:13: error: device.currency: found the number 3") != std::string::npos);
  CHECK(shown.find("\n     currency = 3\n                ^\n") != std::string::npos);

  const auto marked = [](const std::string& line, int column) {
    return cli::problems_text({{"f", 1, column, "", "bad", "", line}}, 80);
  };
  CHECK(marked("abc", 3) == "f:1:3: error: bad\n    abc\n      ^\n");
  CHECK(marked("abc", 0) == "f:1: error: bad\n    abc\n");
  CHECK(marked("", 0) == "f:1: error: bad\n");
  CHECK(marked("  ", 1) == "f:1:1: error: bad\n");
  // Wide letters take two columns, an escape is no escape.
  CHECK(marked("\xE9\x9B\xBB = 1", 3) == "f:1:3: error: bad\n    \xE9\x9B\xBB = 1\n       ^\n");
  CHECK(marked("\x1b[2J", 1).find('\x1b') == std::string::npos);
  // A long line is cut so that the mark stays in sight.
  const std::string cut = marked(std::string(100, 'a') + "B" + std::string(100, 'c'), 101);
  CHECK(cut == "f:1:101: error: bad\n    ..." + std::string(28, 'a') + "B" + std::string(41, 'c') + "...\n" +
                   std::string(4 + 3 + 28, ' ') + "^\n");
}
