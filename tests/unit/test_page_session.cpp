#include <doctest/doctest.h>

#include <map>
#include <optional>
#include <string>

#include "mendworth/diagnostic.hpp"
#include "mendworth/drawer.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/render.hpp"
#include "page/requests.hpp"
#include "page/session.hpp"
#include "render/json_value.hpp"
#include "support/example_files.hpp"

using namespace mendworth;
using namespace mendworth::page;

namespace {

constexpr int futures = 400;
const char* const printer = "label-printer.toml";

/// A session over files in memory.
struct Desk {
  std::map<std::string, std::string> files;
  Session session;

  explicit Desk(bool with_shop = false, const std::optional<Drawer>& drawer = {})
      : session(setup(*this, with_shop, drawer)) {}

  static Setup setup(Desk& desk, bool with_shop, const std::optional<Drawer>& drawer) {
    Setup out;
    out.drawer = drawer;
    out.rates = built_in_rates();
    out.settings.futures = futures;
    out.settings.threads = 1;
    if (with_shop) out.shop = read_shop(mendworth::test::example_text("shop.toml"), "shop.toml", out.rates);
    out.today = [] { return Date{2026, 3, 1}; };
    out.seconds = [] { return 0.0; };
    out.files.list = [&desk] {
      std::vector<std::string> names;
      for (const auto& [name, text] : desk.files) names.push_back(name);
      return names;
    };
    out.files.read = [&desk](const std::string& name) -> std::optional<std::string> {
      const auto found = desk.files.find(name);
      if (found == desk.files.end()) return std::nullopt;
      return found->second;
    };
    out.files.write = [&desk](const std::string& name, const std::string& text) { desk.files[name] = text; };
    return out;
  }

  void open_printer() {
    files[printer] = mendworth::test::example_text(printer);
    session.open(printer);
  }

  Json state(std::optional<long long> known_revision = std::nullopt) {
    const auto json = Json::read(session.state_json("", known_revision));
    REQUIRE(json.has_value());
    return *json;
  }
  std::string form() { return *state().find("form")->as<std::string>(); }
  std::size_t problems() {
    const Json now = state();
    return now.find("problems")->as<std::vector<Json>>()->size();
  }
  std::string first_problem(const char* what) {
    const Json now = state();
    return *now.find("problems")->as<std::vector<Json>>()->front().find(what)->as<std::string>();
  }
};

Weighing weighed(const std::string& text, const std::vector<std::string>& overrides) {
  WeighSettings settings;
  settings.futures = futures;
  settings.threads = 1;
  return weigh(read_case(text, printer, built_in_rates(), overrides), built_in_rates(), settings);
}

}  // namespace

TEST_CASE("without a case the page begins with the questions, and their answers make the case") {
  Desk desk;
  CHECK(desk.form().find("id=\"f-ask.age\"") != std::string::npos);
  desk.session.change("ask.age", "4..8");
  desk.session.change("ask.new", "85");
  input::Answers answers(built_in_rates());
  CHECK(answers.give(*input::find_question("age"), "4..8").empty());
  CHECK(answers.give(*input::find_question("new"), "85").empty());
  CHECK(desk.session.text() == case_text(answers));
  desk.session.change("ask.age", "old");
  CHECK(desk.first_problem("key") == "ask.age");
  CHECK(desk.first_problem("text").find("wants a number from") != std::string::npos);
  CHECK_THROWS_AS((void)desk.session.answer_json(desk.session.revision()), Refused);
  desk.session.undo();
  CHECK(desk.problems() == 0);
  // A slider moves an entry that a question is about: that is its answer.
  desk.session.change("replacement.1.price", "120");
  CHECK(answers.give(*input::find_question("new"), "120").empty());
  CHECK(desk.session.text() == case_text(answers));
  // Any other change of the case itself makes it one.
  desk.session.change("downtime.per_day", "2");
  CHECK(desk.form().find("id=\"f-ask.age\"") == std::string::npos);
  CHECK(desk.form().find("id=\"f-device.age_years\"") != std::string::npos);
}

TEST_CASE("after each movement the figures are those of weigh with --set") {
  Desk desk;
  desk.open_printer();
  const std::string text = desk.session.text();
  std::vector<std::string> overrides;
  for (const auto& [key, value] : {std::pair{"labour.rate_per_hour", "9"},
                                   {"replacement.1.price", "120..200"},
                                   {"device.scrap", "-4"}}) {
    desk.session.change(key, value);
    overrides.push_back(std::string(key) + "=" +
                        (value == std::string("120..200") ? "{low = 120, high = 200}" : value));
    CHECK(weighing_json(*desk.session.weighing()) == weighing_json(weighed(text, overrides)));
  }
}

TEST_CASE("what is wrong is said at its field, in the words of the reader") {
  Desk desk;
  desk.open_printer();
  desk.session.change("device.age_years", "2,5");
  CHECK(desk.problems() == 1);
  CHECK(desk.first_problem("key") == "device.age_years");
  try {
    (void)read_case(desk.session.text(), printer, built_in_rates());
    FAIL("must not be read");
  } catch (const InputError& error) {
    CHECK(desk.first_problem("text").starts_with(error.problems().front().message));
  }
  desk.session.change("device.age_years", "");
  CHECK(desk.first_problem("text").find("how old the device is") != std::string::npos);
}

TEST_CASE("changes are undone one by one, those of one gesture together") {
  Desk desk;
  desk.open_printer();
  const std::string first = desk.session.text();
  desk.session.change("labour.rate_per_hour", "10");
  const std::string second = desk.session.text();
  for (const char* value : {"11", "12", "13"}) desk.session.change("device.resale", value, 7);
  desk.session.undo();
  CHECK(desk.session.text() == second);
  desk.session.redo();
  CHECK(desk.session.text().find("resale = 13") != std::string::npos);
  desk.session.undo();
  desk.session.undo();
  CHECK(desk.session.text() == first);
  CHECK_THROWS_AS(desk.session.undo(), Refused);
  desk.session.change("labour.rate_per_hour", "10");
  CHECK_THROWS_AS(desk.session.redo(), Refused);
}

TEST_CASE("rows are added and removed, and the text is as it was") {
  Desk desk;
  desk.open_printer();
  const std::string first = desk.session.text();
  desk.session.add_item("supplier");
  CHECK(desk.form().find("data-remove=\"supplier.2\"") != std::string::npos);
  CHECK(desk.problems() > 0);  // what it asks for shipping is not said yet
  desk.session.change("supplier.2.shipping", "3");
  CHECK(desk.first_problem("key").ends_with(".supplier"));  // of two, an offer says which
  desk.session.remove_item("supplier.2");
  CHECK(desk.problems() == 0);
  CHECK(desk.session.text() == first);
  CHECK_THROWS_AS(desk.session.remove_item("supplier.9"), Refused);
  CHECK_THROWS_AS(desk.session.remove_item("device"), Refused);
  CHECK_THROWS_AS(desk.session.add_item("device"), Refused);
  CHECK_THROWS_AS(desk.session.add_item("nothing"), Refused);
}

TEST_CASE("a file is saved under its own name or a new one, and no other is touched") {
  Desk desk;
  desk.open_printer();
  desk.files["other.toml"] = "# somebody's";
  desk.session.change("labour.rate_per_hour", "10");
  desk.session.save(printer);
  CHECK(desk.files[printer] == desk.session.text());
  desk.session.save("new.toml");
  CHECK(desk.files["new.toml"] == desk.session.text());
  CHECK_THROWS_AS(desk.session.save("other.toml"), Refused);
  desk.files["new.toml"] += "# changed meanwhile\n";
  CHECK_THROWS_AS(desk.session.save("new.toml"), Refused);
  for (const char* name :
       {"../x.toml", "/tmp/x.toml", ".toml", ".x.toml", "x.txt", "", "a/b.toml", "a\\b.toml", "a\n.toml"}) {
    CAPTURE(name);
    CHECK_THROWS_AS(desk.session.save(name), Refused);
    CHECK_THROWS_AS(desk.session.open(name), Refused);
  }
  CHECK(desk.files["other.toml"] == "# somebody's");
  CHECK_THROWS_AS(desk.session.open("missing.toml"), Refused);
}

TEST_CASE("a case with a wrong value is saved only if it is to be kept as it is") {
  Desk desk;
  desk.open_printer();
  const std::string before = desk.files[printer];
  desk.session.change("device.age_years", "2,5");
  std::string said;
  try {
    desk.session.save(printer);
  } catch (const Refused& refused) {
    said = refused.what();
  }
  CHECK(said == "not saved: " + desk.first_problem("text"));
  CHECK(desk.files[printer] == before);
  const auto save = [&desk](const char* as_it_is) {
    return respond(desk.session, {"POST", "save", {{"name", printer}, {"as-it-is", as_it_is}}}).status;
  };
  CHECK(save("0") == 422);
  CHECK(desk.files[printer] == before);
  CHECK(save("1") == 200);
  CHECK(desk.files[printer] == desk.session.text());
  CHECK(desk.files[printer] != before);
}

TEST_CASE("an answer to a state that has passed is not given") {
  Desk desk;
  desk.open_printer();
  const long long before = desk.session.revision();
  desk.session.change("labour.rate_per_hour", "10");
  CHECK_THROWS_AS((void)desk.session.answer_json(before), Superseded);
  desk.session.end_work();
  CHECK_THROWS_AS((void)desk.session.answer_json(desk.session.revision()), Superseded);
  CHECK(desk.state(before).find("answer") == nullptr);
}

TEST_CASE("with the state comes a first answer, to a page that knows an older one") {
  Desk desk;
  desk.open_printer();
  const long long before = desk.session.revision();
  desk.session.change("labour.rate_per_hour", "10");
  const Json now = desk.state(before);
  REQUIRE(now.find("answer") != nullptr);
  CHECK(now.find("answer")->find("lead")->as<std::string>()->find("<table") != std::string::npos);
  CHECK(desk.state(desk.session.revision()).find("answer") == nullptr);
  CHECK(desk.state().find("answer") == nullptr);
  desk.session.change("labour.rate_per_hour", "-1");
  CHECK(desk.state(before).find("answer") == nullptr);  // what cannot be read has none
}

TEST_CASE("a whole answer has its sliders with turning points, its sections and a comparison") {
  Desk desk;
  desk.open_printer();
  desk.session.pin(desk.session.revision());
  desk.session.change("labour.rate_per_hour", "10");
  const auto json = Json::read(desk.session.answer_json(desk.session.revision()));
  REQUIRE(json.has_value());
  const auto part = [&](const char* name) { return *json->find(name)->as<std::string>(); };
  CHECK(part("sliders").find("data-key=\"labour.rate_per_hour\"") != std::string::npos);
  CHECK(part("sliders").find("turns at") != std::string::npos);
  CHECK(part("sections").find("id=\"d-sensitivity\"") != std::string::npos);
  CHECK(part("comparison").find("labour rate (") != std::string::npos);
  CHECK(part("verdict").find("EUR") != std::string::npos);
  CHECK(part("lead").find("<table") != std::string::npos);
}

TEST_CASE("the shop's side of a quote is sent only where it is asked for") {
  Desk desk(true);
  desk.files["recorder.toml"] = mendworth::test::example_text("field-recorder.toml");
  desk.session.open("recorder.toml");
  const std::string customer = desk.session.quote_json(desk.session.revision(), false);
  const std::string shop = desk.session.quote_json(desk.session.revision(), true);
  CHECK(customer.find("Weirside Repairs") != std::string::npos);
  CHECK(customer.find("argin") == std::string::npos);
  CHECK(shop.find("argin") != std::string::npos);
  Desk without;
  CHECK_THROWS_AS((void)without.session.quote_json(without.session.revision(), false), Refused);
}

TEST_CASE("a request passes only with the secret, from this machine and from the page itself") {
  const Gate gate{.secret = "abc123", .port = 4711};
  const Caller good{.path = "/abc123/change", .host = "127.0.0.1:4711", .origin = "", .site = ""};
  int status = 0;
  const auto passes = [&](Caller caller) { return admitted(gate, caller, status).has_value(); };
  CHECK(admitted(gate, good, status) == "change");
  CHECK(passes({"/abc123/", "localhost:4711", "http://localhost:4711", "same-origin"}));
  CHECK(passes({"/abc123/", "127.0.0.1:4711", "", "none"}));
  CHECK_FALSE(passes({"/abc123/", "127.0.0.1", "", ""}));
  CHECK(status == 403);
  CHECK_FALSE(passes({"/abc123/", "evil.example:4711", "", ""}));
  CHECK_FALSE(passes({"/abc123/", "127.0.0.1:4711", "http://evil.example", ""}));
  CHECK_FALSE(passes({"/abc123/", "127.0.0.1:4711", "null", ""}));
  CHECK_FALSE(passes({"/abc123/", "127.0.0.1:4711", "https://127.0.0.1:4711", ""}));
  CHECK_FALSE(passes({"/abc123/", "127.0.0.1:4711", "", "cross-site"}));
  for (const char* path : {"/", "", "/abc123", "/abc124/", "/abc12/", "/abc1233/", "abc123/", "//abc123/"}) {
    CAPTURE(path);
    CHECK_FALSE(passes({path, "127.0.0.1:4711", "", ""}));
    CHECK(status == 404);
  }
}

TEST_CASE("fields of a request are decoded, and broken ones give none") {
  CHECK(form_fields("key=a.b&value=1%2C5+x%0A") ==
        std::map<std::string, std::string>{{"key", "a.b"}, {"value", "1,5 x\n"}});
  CHECK(form_fields("a=b=c&d").at("a") == "b=c");
  CHECK(form_fields("a=%zz").empty());
  CHECK(form_fields("a=%4").empty());
  std::string many;
  for (int i = 0; i < 40; ++i) many += "k" + std::to_string(i) + "=1&";
  CHECK(form_fields(many).empty());
}

TEST_CASE("requests that make no sense are refused, and the session goes on") {
  Desk desk;
  desk.open_printer();
  const auto status = [&](const char* method, const char* path,
                          std::map<std::string, std::string> fields = {}) {
    return respond(desk.session, {method, path, std::move(fields)}).status;
  };
  CHECK(status("GET", "nothing") == 404);
  CHECK(status("POST", "nothing") == 404);
  CHECK(status("PUT", "change") == 405);
  CHECK(status("POST", "change", {{"key", "device"}, {"value", "1"}}) == 422);
  CHECK(status("POST", "change", {{"key", "part.99.name"}, {"value", "1"}}) == 422);
  CHECK(status("POST", "change", {{"key", ""}, {"value", "1"}}) == 422);
  CHECK(status("POST", "change", {{"key", "ask.age"}, {"value", "1"}}) == 422);
  CHECK(status("GET", "answer", {{"revision", "0"}}) == 409);
  CHECK(status("GET", "answer", {{"revision", "x"}}) == 409);
  CHECK(status("POST", "open", {{"name", "../etc/passwd"}}) == 422);
  CHECK(status("POST", "alive") == 200);
  CHECK(status("GET", "state") == 200);
  CHECK(status("GET", "") == 200);
  CHECK(status("GET", "page.js") == 200);
  CHECK(respond(desk.session, {"POST", "end", {}}).end);
  const Response report = respond(desk.session, {"GET", "report.html", {}});
  CHECK(report.file_name == "label-printer.html");
  // The report as --format html gives it, in chapters.
  CHECK(report.body == weighing_page(*desk.session.weighing(), {.form = PageForm::html}));
  CHECK(report.body.find("</html>") != std::string::npos);
}

TEST_CASE("spare parts on hand lie beside every case of the page") {
  const Drawer drawer = read_drawer("candidate,pieces\nkey switch,5\n", "drawer.csv");
  Desk desk(false, drawer);
  desk.open_printer();
  Case c = read_case(desk.session.text(), printer, built_in_rates());
  (void)lay_out(drawer, c);
  WeighSettings settings;
  settings.futures = futures;
  settings.threads = 1;
  CHECK(weighing_json(*desk.session.weighing()) == weighing_json(weigh(c, built_in_rates(), settings)));
  CHECK(weighing_json(*desk.session.weighing()) != weighing_json(weighed(desk.session.text(), {})));
}

TEST_CASE("what is saved under another name is of that name from then on") {
  Desk desk;
  desk.open_printer();
  CHECK(desk.session.weighing()->source_name == printer);
  desk.session.save("second.toml");
  CHECK(desk.session.weighing()->source_name == "second.toml");
  CHECK(desk.files.count("second.toml") == 1);
}

TEST_CASE("a list of names that are known has a box for each") {
  Desk desk;
  desk.open_printer();
  desk.session.change("device.hazards", "mains\nlithium-cell");
  CHECK(desk.session.text().find("hazards = [\"mains\", \"lithium-cell\"]") != std::string::npos);
  const std::string form = desk.form();
  CHECK(form.find("<input type=\"checkbox\" value=\"mains\" checked>") != std::string::npos);
  CHECK(form.find("<input type=\"checkbox\" value=\"lithium-cell\" checked>") != std::string::npos);
}
