#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <string>
#include <utility>

#include <doctest/doctest.h>

#include "mendworth/diagnostic.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"

namespace {

namespace fs = std::filesystem;
using namespace mendworth;

RateBook overlaid(const std::string& text) {
  RateBook book = built_in_rates();
  overlay_rates(book, text, "mine.toml");
  return book;
}

std::string message(const std::string& text) {
  try {
    static_cast<void>(overlaid(text));
  } catch (const InputError& error) {
    return error.what();
  }
  return "no problem found";
}

}  // namespace

TEST_CASE("rates: the built-in tables are complete") {
  const RateBook& rates = built_in_rates();
  for (const char* name : {"tactile-switch",
                           "snap-action-switch",
                           "rubber-dome",
                           "membrane-key",
                           "rotary-encoder",
                           "carbon-potentiometer",
                           "conductive-potentiometer",
                           "slide-potentiometer",
                           "thumb-stick",
                           "usb-a-receptacle",
                           "micro-usb-receptacle",
                           "usb-c-receptacle",
                           "audio-jack",
                           "barrel-socket",
                           "flex-connector",
                           "slide-switch",
                           "relay",
                           "ball-bearing-fan",
                           "sleeve-fan",
                           "electrolytic-capacitor",
                           "lithium-cell"}) {
    CAPTURE(name);
    CHECK(rates.lives.count(name) == 1);
  }
  for (const char* name :
       {"mains", "lithium-cell", "charged-capacitor", "hot-work", "solder-fume", "solvent", "lead"}) {
    CAPTURE(name);
    REQUIRE(rates.hazards.count(name) == 1);
    CHECK_FALSE(rates.hazards.at(name).licensed_only);
  }
  for (const char* name : {"fixed-mains-wiring", "microwave-oven", "cell-pack", "gas", "life-safety",
                           "medical", "laser", "cathode-ray-tube", "vehicle-brakes"}) {
    CAPTURE(name);
    REQUIRE(rates.hazards.count(name) == 1);
    CHECK(rates.hazards.at(name).licensed_only);
  }
  CHECK(rates.skills.size() == 3);
}

TEST_CASE("rates: every figure has a source, every range is in reason") {
  const RateBook& rates = built_in_rates();
  for (const auto& item : rates.lives) {
    CAPTURE(item.first);
    const auto& entry = item.second;
    CHECK_FALSE(entry.source.empty());
    CHECK(entry.life.rated_life.low() > 0);
    CHECK(entry.life.failed_at_rated == 0.10);
    CHECK(entry.life.life_spread >= 1);
    CHECK(entry.life.shape_spread >= 1);
    CHECK(entry.life.shape.low() >= 1);
    CHECK(entry.life.shape.high() <= 6);
  }
  for (const auto& item : rates.operations) {
    CAPTURE(item.first);
    const auto& entry = item.second;
    CHECK_FALSE(entry.source.empty());
    CHECK(entry.value.high() > 0);
  }
  for (const auto& item : rates.terminations) {
    CAPTURE(item.first);
    const auto& entry = item.second;
    CHECK_FALSE(entry.source.empty());
    CHECK(entry.fit_minutes.high() > 0);
  }
  for (const auto& item : rates.skills) {
    CAPTURE(item.first);
    const auto& entry = item.second;
    CHECK_FALSE(entry.source.empty());
    CHECK(entry.joint_write_off.high() < entry.joint_mendable.high());
  }
  for (const auto& item : rates.hazards) {
    CAPTURE(item.first);
    const auto& entry = item.second;
    CHECK_FALSE(entry.source.empty());
    CHECK_FALSE(entry.title.empty());
    for (const std::string& sentence : entry.cautions) CHECK(sentence.back() == '.');
  }
  for (const auto& item : rates.defaults) {
    CAPTURE(item.first);
    const auto& entry = item.second;
    CHECK_FALSE(entry.source.empty());
  }
  for (const auto& item : rates.default_names) {
    CAPTURE(item.first);
    const auto& entry = item.second;
    CHECK_FALSE(entry.source.empty());
  }
}

TEST_CASE("rates: skills are ordered, the careful amateur is the measure") {
  const auto& skills = built_in_rates().skills;
  const Skill& beginner = skills.at("beginner");
  const Skill& amateur = skills.at("careful-amateur");
  const Skill& professional = skills.at("professional");
  CHECK(amateur.minutes_factor == 1.0);
  CHECK(beginner.minutes_factor > 1.0);
  CHECK(professional.minutes_factor < 1.0);
  for (const auto member : {&Skill::joint_mendable, &Skill::joint_write_off, &Skill::opening_mendable,
                            &Skill::opening_write_off}) {
    CHECK((beginner.*member).base() > (amateur.*member).base());
    CHECK((amateur.*member).base() > (professional.*member).base());
  }
  CHECK(professional.diagnosis_right.base() > amateur.diagnosis_right.base());
}

TEST_CASE("rates: minor units of currencies") {
  // Published: ISO 4217, list one, 1 January 2026.
  const auto& currencies = built_in_rates().currencies;
  for (const auto& item : {std::pair("EUR", 2), std::pair("USD", 2), std::pair("JPY", 0), std::pair("KWD", 3),
                           std::pair("CLF", 4), std::pair("ISK", 0), std::pair("IQD", 3), std::pair("MRU", 2),
                           std::pair("UYW", 4)}) {
    CAPTURE(item.first);
    REQUIRE(currencies.count(item.first) == 1);
    CHECK(currencies.at(item.first).minor_digits == item.second);
  }
  for (const char* gone : {"XAU", "XXX", "XTS", "HRK", "BGN"}) {
    CAPTURE(gone);
    CHECK(currencies.count(gone) == 0);
  }
  CHECK(currencies.size() == 165);
}

TEST_CASE("overlay_rates: an entry replaces the entry of its name and no other") {
  const RateBook book = overlaid(R"(source = "our shop, 2030"
[life.tactile-switch]
unit = "cycles"
rated_life = 200_000
failed_at_rated = 0.5
life_spread = 1.5
shape = 3
shape_spread = 1.1
[operation.open]
minutes = 3
source = "stop watch"
[default]
"horizon.discount_rate" = { value = 0.01 }
[currency]
XTS = 1
)");
  CHECK(book.lives.at("tactile-switch").life.rated_life == Quantity::exactly(200'000));
  CHECK(book.lives.at("tactile-switch").life.failed_at_rated == 0.5);
  CHECK(book.lives.at("tactile-switch").source == "our shop, 2030");
  CHECK(book.operations.at("open").source == "stop watch");
  CHECK(book.defaults.at("horizon.discount_rate").value == Quantity::exactly(0.01));
  CHECK(book.currencies.at("XTS").minor_digits == 1);
  CHECK(book.lives.size() == built_in_rates().lives.size());
  CHECK(book.lives.at("relay").source == built_in_rates().lives.at("relay").source);
}

TEST_CASE("overlay_rates: new names can be used by a case") {
  const RateBook book = overlaid(R"([termination.glued]
remove_minutes = 3
clean_minutes = 2
fit_minutes = 1
joints = 0
source = "from memory: last week"
[default_names]
"position.termination" = { names = ["glued"], source = "our shop" }
)");
  const Case c = read_case(starter_case(false), "case.toml", book);
  CHECK(c.positions[0].termination == "glued");
  CHECK(c.positions[0].minutes == Quantity::exactly(6));
}

TEST_CASE("overlay_rates: exact messages") {
  CHECK(message("[lifes]\n") == "mine.toml:1:2: error: lifes: unknown key (did you mean 'life'?)");
  CHECK(message("[operation.open]\nminutes = 3\n") ==
        "mine.toml:1:1: error: operation.open.source: missing: where the figures come from (write source = "
        "\"author, "
        "title\", \"common practice, no source\" or \"from memory: ...\")");
  CHECK(message("source = \"s\"\n[operation.open]\nminute = 3\n") ==
        "mine.toml:3:1: error: operation.open.minute: unknown key (did you mean 'minutes'?)");
  CHECK(message("source = \"s\"\n[operation]\nopen = 3\n") ==
        "mine.toml:3:8: error: operation.open: found the number 3, a table is wanted");
  CHECK(message("source = \"s\"\n[default]\n\"horizon.discount_rat\" = { value = 0.01 }\n") ==
        "mine.toml:3:1: error: default.\"horizon.discount_rat\": unknown key (did you mean "
        "'horizon.discount_rate'?)");
  CHECK(message("source = \"s\"\n[default]\n\"horizon.discount_rate\" = { value = 3 }\n") ==
        "mine.toml:3:37: error: default.horizon.discount_rate.value: found 3, allowed is -0.2 to 0.5 "
        "(real, per year, as a fraction: 3 % is 0.03)");
  CHECK(message("source = \"s\"\n[currency]\nABC = 9\n") ==
        "mine.toml:3:7: error: currency.ABC.minor_digits: found 9, allowed is 0 to 4");
  CHECK(message("source = \"s\"\n[default_names]\n\"labour.skill\" = { names = [\"begginer\"] }\n") ==
        "mine.toml: error: default_names.labour.skill: there is no skill 'begginer' (did you mean "
        "'beginner'?)");
  CHECK(message("[life.x]\nunit = \"miles\"\n")
            .find("mine.toml:2:8: error: life.x.unit: found 'miles', allowed are "
                  "cycles, hours, years") != std::string::npos);
}

TEST_CASE("overlay_rates: a book stays as it was when the text is wrong") {
  RateBook book = built_in_rates();
  CHECK_THROWS_AS(
      overlay_rates(book, "source = \"s\"\n[operation]\nopen = { minutes = 1 }\nclose = 2\n", "mine.toml"),
      InputError);
  CHECK(book.operations.at("open").value == built_in_rates().operations.at("open").value);
}

TEST_CASE("overlay_rates_directory: files in the order of their names, errors") {
  const fs::path folder = fs::temp_directory_path() / ("mendworth_rates_" + std::to_string(::getpid()));
  fs::create_directories(folder);
  const auto write = [&](const char* name, const std::string& text) { std::ofstream(folder / name) << text; };
  RateBook book = built_in_rates();
  CHECK_THROWS_AS(overlay_rates_directory(book, folder.string()), FileError);  // nothing there
  write("b.toml", "source = \"second\"\n[operation]\nopen = { minutes = 2 }\n");
  write("a.toml",
        "source = \"first\"\n[operation]\nopen = { minutes = 1 }\nclose = { minutes = 1 }\n"
        "[default_names]\n\"labour.skill\" = { names = [\"me\"] }\n");
  write("c.toml",
        "source = \"third\"\n[skill.me]\nminutes_factor = 1\njoint_mendable = 0\njoint_write_off = 0\n"
        "opening_mendable = 0\nopening_write_off = 0\ndiagnosis_right = 1\n");
  write("note.txt", "not rates");
  overlay_rates_directory(book, folder.string());
  CHECK(book.operations.at("open").source == "second");
  CHECK(book.operations.at("close").source == "first");
  CHECK(book.default_names.at("labour.skill").names.front() == "me");

  write("d.toml", "[operation.open]\nminutes = -1\nsource = \"s\"\n");
  write("e.toml", "what");
  try {
    overlay_rates_directory(book, folder.string());
    FAIL("no problem found");
  } catch (const InputError& error) {
    CHECK(error.problems().size() == 2);
  }
  fs::remove_all(folder);
  CHECK_THROWS_AS(overlay_rates_directory(book, folder.string()), FileError);
}
