#include <doctest/doctest.h>

#include <limits>
#include <map>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include "render/json_shape.hpp"

namespace mendworth {

namespace {

enum class Colour { red, blue };

struct Tone {
  double pitch = 440;
};

struct Bell {
  std::string name = "A";
  int count = 3;
  double crack_chance = 0.25;
  std::optional<double> weight{};
  std::vector<Tone> tones{{}, {-0.0}};
  Colour colour = Colour::blue;
  Date cast{1999, 1, 2};
  std::map<std::string, int> hours{{"noon", 12}};
  std::optional<Tone> echo{};
};

struct Tower {
  Bell bell;
  std::optional<std::string> note{};
};

// A definition's name for two types.
struct Chord {
  Tone tone;
};
struct Chime {
  Chord chord;
};

const char* name_of(Colour colour) {
  switch (colour) {
    case Colour::red: return "red";
    case Colour::blue: return "blue";
  }
  return "";
}

}  // namespace

template <>
Shape<Tone>::Shape() : MemberTable("tone") {
  has({{"pitch", &Tone::pitch, "in Hz", any_number}});
}

template <>
Shape<Bell>::Shape() : MemberTable("bell", "it rings") {
  has({
      {"name", &R::name},
      {"count", &R::count, "of them"},
      {"crack_chance", &R::crack_chance},
      {"weight", &R::weight, "", between(1, 2.5)},
      {"tones", &R::tones, "", at_least(1)},
      {"colour", &R::colour},
      {"cast", &R::cast},
      {"hours", &R::hours},
      {&R::echo},
      {"loud", [](const R& bell) { return bell.count > 2; }, "worked out"},
      {"minor_digits", [](const R& /*bell*/, const SumStyle& sums) { return sums.currency.minor_digits; }},
  });
}

template <>
Shape<Tower>::Shape() {
  has({{"bell", &R::bell}, {"note", &R::note, "", left_out_if_none}});
}

template <>
Shape<Chord>::Shape() : MemberTable("tone") {
  has({{"tone", &Chord::tone}});
}

template <>
Shape<Chime>::Shape() {
  has({{"chord", &Chime::chord}});
}

namespace {

constexpr AnswerOf<Tower> tower_form{
    {.schema = "test.tower", .version = 3, .meaning = "a tower", .closed = true}};

}  // namespace

TEST_CASE("a table of members gives the value of a struct") {
  Tower tower;
  CHECK(tower_form.json(tower, {{"JPY", 0}, {}}).find("bell")->line() ==
        R"({"name":"A","count":3,"crack_chance":0.25,"weight":null,"tones":[{"pitch":440.0},{"pitch":0.0}],)"
        R"("colour":"blue","cast":"1999-01-02","hours":{"noon":12},"loud":true,"minor_digits":0})");
  CHECK(tower_form.json(tower).find("note") == nullptr);
  tower.note = "high";
  tower.bell.echo = Tone{220};
  const Json json = tower_form.json(tower);
  CHECK(*json.find("note")->as<std::string>() == "high");
  CHECK(*json.find("bell")->find("pitch")->as<double>() == 220);
  CHECK(*json.find("schema")->as<std::string>() == "test.tower");
  tower.bell.tones[1].pitch = std::numeric_limits<double>::infinity();
  CHECK_THROWS_AS(static_cast<void>(tower_form.json(tower)), std::logic_error);
}

TEST_CASE("and its schema: types, what the end of a key says, what the line says") {
  const auto schema = Json::read(tower_form.json_schema());
  REQUIRE(schema);
  CHECK(*schema->find("title")->as<std::string>() == "test.tower, version 3");
  CHECK(schema->find("required")->line() == R"(["schema","version","program_version","bell"])");
  CHECK(schema->find("properties")->find("bell")->line() == R"({"$ref":"#/definitions/bell"})");
  CHECK(schema->find("properties")->find("note")->line() == R"({"type":"string"})");
  const Json& bell = *schema->find("definitions")->find("bell");
  CHECK(bell.find("additionalProperties")->line() == "false");
  CHECK(bell.find("required")->line() ==
        R"(["name","count","crack_chance","weight","tones","colour","cast","hours","loud","minor_digits"])");
  const auto says = [&](const char* key) { return bell.find("properties")->find(key)->line(); };
  CHECK(says("count") == R"({"type":"integer","minimum":0,"description":"of them"})");
  CHECK(says("crack_chance") == R"({"type":"number","minimum":0,"maximum":1})");
  CHECK(says("weight") == R"({"type":["number","null"],"minimum":1,"maximum":2.5})");
  CHECK(says("tones") == R"({"type":"array","items":{"$ref":"#/definitions/tone"},"minItems":1})");
  CHECK(says("colour") == R"({"enum":["red","blue"]})");
  CHECK(says("cast") == R"({"type":"string","pattern":"^[0-9]{4}-[0-9]{2}-[0-9]{2}$"})");
  CHECK(says("hours") == R"({"type":"object","additionalProperties":{"type":"integer"}})");
  CHECK(says("pitch") == R"({"type":"number","description":"in Hz"})");
  CHECK(says("loud") == R"({"type":"boolean","description":"worked out"})");
}

TEST_CASE("two structs of one schema cannot have one name") {
  const AnswerOf<Chime> form{{.schema = "test", .version = 1, .meaning = ""}};
  CHECK_THROWS_AS(static_cast<void>(form.json_schema()), std::logic_error);
}

}  // namespace mendworth
