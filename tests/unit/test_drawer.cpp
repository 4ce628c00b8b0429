#include "mendworth/drawer.hpp"

#include <doctest/doctest.h>

#include <cstdint>
#include <stdexcept>
#include <string>
#include <vector>

#include "mendworth/diagnostic.hpp"

using namespace mendworth;

namespace {

using Lines = std::vector<std::string>;

Drawer read(const std::string& csv) { return read_drawer(csv, "drawer.csv"); }

template <class Action>
Lines problems_of(const Action& action) {
  try {
    action();
  } catch (const InputError& error) {
    Lines out;
    for (const Diagnostic& problem : error.problems()) out.push_back(problem.text());
    return out;
  }
  return {};
}

Lines problems(const std::string& csv) {
  return problems_of([&] { static_cast<void>(read(csv)); });
}

/// The drawer after the file was written and read again.
Drawer through_file(const Drawer& drawer) { return read(drawer_csv(drawer)); }

bool same(const DrawerEntry& a, const DrawerEntry& b) {
  return a.candidate == b.candidate && a.pieces == b.pieces && a.since == b.since && a.note == b.note &&
         a.own == b.own;
}

bool same(const Drawer& a, const Drawer& b) {
  if (a.entries.size() != b.entries.size() || a.format.separator != b.format.separator ||
      a.format.columns != b.format.columns || a.format.byte_order_mark != b.format.byte_order_mark ||
      a.format.crlf != b.format.crlf)
    return false;
  for (std::size_t i = 0; i < a.entries.size(); ++i) {
    if (!same(a.entries[i], b.entries[i])) return false;
  }
  return true;
}

/// Random numbers that are the same everywhere: the linear congruential generator of Knuth's MMIX (TAOCP 2, 3.3.4),
/// from memory.
class Dice {
 public:
  explicit Dice(std::uint64_t start) : state_(start) {}
  std::size_t below(std::size_t n) {
    state_ = state_ * 6364136223846793005ULL + 1442695040888963407ULL;
    return static_cast<std::size_t>(state_ >> 33U) % n;
  }

 private:
  std::uint64_t state_;
};

std::string odd_text(Dice& dice, std::size_t most) {
  static const Lines pieces = {
      "a",  "B", "6",  ",",        ";",  "\t",           "\"", "\n", "\r\n", "\r",
      "''", " ", "\\", "\xC3\xA9", "=1", "\xE2\x82\xAC", "#",  "-",  "\"\"", "\xF0\x9F\x94\xA7"};
  std::string text;
  const std::size_t length = dice.below(most + 1);
  for (std::size_t i = 0; i < length; ++i) text += pieces[dice.below(pieces.size())];
  return text;
}

Case case_with(const std::vector<std::pair<std::string, Lines>>& parts) {
  Case c;
  for (const auto& [name, candidates] : parts) {
    Part part;
    part.name = name;
    for (const std::string& candidate : candidates) {
      part.candidates.emplace_back();
      part.candidates.back().name = candidate;
    }
    c.parts.push_back(part);
  }
  return c;
}

const std::string two_dates =
    "candidate,pieces,since,note,box\n"
    "knob,2,2025-03-01,new,A\n"
    "relay,1,,,B\n"
    "knob,3,2024-01-01,,C\n"
    "knob,4,,,D\n";

}  // namespace

TEST_CASE("drawer: what the rows mean") {
  const Drawer d = read(
      "candidate,pieces,since,note\n"
      "button 6x6,12,2025-03-01,from the old radio\n"
      "\"knob, grey\",0,,\n");
  CHECK(d.source_name == "drawer.csv");
  REQUIRE(d.entries.size() == 2);
  CHECK(same(d.entries[0], {"button 6x6", 12, Date{2025, 3, 1}, "from the old radio", {}}));
  CHECK(same(d.entries[1], {"knob, grey", 0, std::nullopt, "", {}}));
  CHECK(own_columns(d).empty());
  CHECK(read("candidate,pieces\n").entries.empty());
}

TEST_CASE("drawer: separators, order and letters of the columns, line ends, a byte order mark") {
  for (const std::string& csv : {
           std::string("candidate,pieces,since,note\nknob,7,,x\n"),
           std::string("note;pieces;Candidate\nx;7;knob"),
           std::string("\"PIECES\"\t\"candidate\"\t\"note\"\r\n\"7\"\t\" knob \"\tx\r\n"),
           std::string("\n\n candidate , pieces , note \r knob , 007 ,x\r , ,\r"),
           std::string("\xEF\xBB\xBF") + "candidate;pieces;note;a, b, c\nknob;7;x;\n",
       }) {
    CAPTURE(csv);
    const Drawer d = read(csv);
    REQUIRE(d.entries.size() == 1);
    CHECK(d.entries[0].candidate == "knob");
    CHECK(d.entries[0].pieces == 7);
    CHECK(d.entries[0].note == "x");
  }
}

TEST_CASE("drawer: every problem is said at once, with its place") {
  CHECK(
      problems("candidate,pieces,since\n"
               ",x,2024-13-01\n"
               "\xC3\xA9\xC3\xA9, -1,\n"
               "\"a\nb\",1.5,yesterday\n"
               "knob,1000001,\n"
               "knob,,\n"
               "knob,3\n"
               "knob,3,,4\n"
               "ok,1000000,2024-02-29\n") ==
      Lines{
          "drawer.csv:2:1: error: candidate: the name is missing (name it as a case does, for instance "
          "button 6x6)",
          "drawer.csv:2:2: error: pieces: found 'x', allowed is a whole number from 0 to 1000000",
          "drawer.csv:2:4: error: since: found '2024-13-01', allowed is a day that exists, as YYYY-MM-DD "
          "(leave it "
          "empty if the day is not known)",
          "drawer.csv:3:5: error: pieces: found '-1', allowed is a whole number from 0 to 1000000",
          "drawer.csv:5:4: error: pieces: found '1.5', allowed is a whole number from 0 to 1000000",
          "drawer.csv:5:8: error: since: found 'yesterday', allowed is a day that exists, as YYYY-MM-DD "
          "(leave it "
          "empty if the day is not known)",
          "drawer.csv:6:6: error: pieces: found '1000001', allowed is a whole number from 0 to 1000000",
          "drawer.csv:7:6: error: pieces: the number is missing; allowed is a whole number from 0 to 1000000",
          "drawer.csv:8: error: 2 fields where the header has 3",
          "drawer.csv:9: error: 4 fields where the header has 3 (a field with the separator in it is "
          "quoted)"});
}

TEST_CASE("drawer: a wrong header") {
  CHECK(problems("candidat,pieces\nknob,x\n") ==
        Lines{"drawer.csv:1: error: candidate: this column is missing: each row names what lies there as a "
              "case does (is "
              "'candidat' meant to be it?)"});
  CHECK(problems("name;count\n").size() == 2);
  CHECK(problems("candidate,pieces,Notes,pieces,sinse\n") ==
        Lines{"drawer.csv:1:18: error: Notes: this column is nearly 'note' (name it 'note', or else "
              "something less like "
              "it)",
              "drawer.csv:1:24: error: pieces: this column stands there twice (keep one, or give the other "
              "one another "
              "name)",
              "drawer.csv:1:31: error: sinse: this column is nearly 'since' (name it 'since', or else "
              "something less "
              "like it)"});
  CHECK(problems("candidate,pieces,note,notes\n").empty());
  CHECK(problems("") == Lines{"drawer.csv: error: the file is empty (the first row names the columns: "
                              "candidate,pieces,since,note)"});
  CHECK(problems("candidate,pieces\nkn\xFF,1\n") ==
        Lines{"drawer.csv:2:3: error: this is no UTF-8 text file: found the byte 0xFF (save the table as CSV "
              "in UTF-8)"});
  CHECK(problems("candidate,pieces\nkn\"ob,1\n\"open,1\n").size() == 2);
  std::string many = "candidate,pieces\n";
  for (int i = 0; i < 150; ++i) many += ",1\n";
  CHECK(problems(many).size() == 101);
  CHECK(problems(many).back() == "drawer.csv: error: and 50 more problems");
}

TEST_CASE("drawer: a file of one's own is given back byte by byte") {
  for (const std::string& csv : {
           std::string("candidate,pieces,since,note\nknob,7,2024-01-01,\"a \"\"b\"\", c\"\n"),
           std::string("box;Pieces;candidate;price each\r\n\"A;1\";3;\"knob\r\nlong\";0,10\r\n;2;relay;\r\n"),
           std::string("\xEF\xBB\xBF") + "candidate\tpieces\tmaker\nknob, grey\t1\t\" spaced \"\n",
           std::string("candidate,pieces\nknob,1\n"),
           std::string("candidate,pieces,,\nknob,1,x,y\n"),
       }) {
    CAPTURE(csv);
    CHECK(drawer_csv(read(csv)) == csv);
  }
  Drawer d = read("box,candidate,pieces\nA,knob,1\n");
  add_pieces(d, "relay", 2, Date{2025, 12, 31}, "spare");
  CHECK(drawer_csv(d) == "box,candidate,pieces,since,note\nA,knob,1,,\n,relay,2,2025-12-31,spare\n");
  CHECK(drawer_csv(Drawer{}) == "candidate,pieces,since,note\n");
}

TEST_CASE("drawer: whatever the names are, what is written is read") {
  Dice dice(2026);
  for (int round = 0; round < 400; ++round) {
    Drawer d;
    d.format.separator = ",;\t"[dice.below(3)];
    d.format.byte_order_mark = dice.below(2) == 0;
    d.format.crlf = dice.below(2) == 0;
    const std::size_t own = dice.below(4);
    for (std::size_t i = 0; i < own; ++i) {
      const auto at = static_cast<std::ptrdiff_t>(dice.below(d.format.columns.size() + 1));
      d.format.columns.insert(d.format.columns.begin() + at, "own" + odd_text(dice, 5) + "!");
    }
    const std::size_t count = dice.below(6);
    for (std::size_t i = 0; i < count; ++i) {
      DrawerEntry entry{"n" + odd_text(dice, 8) + "n",
                        static_cast<int>(dice.below(1'000'001)),
                        std::nullopt,
                        odd_text(dice, 8),
                        {}};
      if (dice.below(2) == 0) entry.since = Date{2020 + static_cast<int>(dice.below(9)), 2, 28};
      for (std::size_t k = 0; k < own; ++k) entry.own.push_back(odd_text(dice, 4));
      d.entries.push_back(entry);
    }
    const std::string csv = drawer_csv(d);
    CAPTURE(csv);
    CHECK(same(through_file(d), d));
  }
}

TEST_CASE("drawer: any text is refused with a reason, or read and written to the same drawer") {
  Dice dice(5);
  const Lines headers = {"candidate,pieces", "pieces;x;candidate;note", "since\tcandidate\tpieces",
                         "\xEF\xBB\xBF\r\ncandidate,pieces,"};
  const Lines bits = {"knob", "3",  ",",      ";",          "\t", "\n", "\r\n",
                      "\r",   "\"", "\"a,\"", "2024-01-01", " ",  "-1", "\xC3\xA9"};
  int taken = 0;
  for (int round = 0; round < 4000; ++round) {
    std::string csv = headers[dice.below(headers.size())] + "\n";
    if (dice.below(2) == 0) csv += "knob,3\n";
    const std::size_t length = dice.below(10);
    for (std::size_t i = 0; i < length; ++i) csv += bits[dice.below(bits.size())];
    CAPTURE(csv);
    Drawer d;
    if (!problems_of([&] { d = read(csv); }).empty()) continue;
    ++taken;
    CHECK(same(through_file(d), d));
  }
  CHECK(taken > 100);
}

TEST_CASE("drawer: pieces join their like, or an empty place of that name, or make a row of their own") {
  Drawer d = read("candidate,pieces,since,note,box\nknob,2,2025-03-01,,A\nrelay,0,2020-01-01,old,B\n");
  add_pieces(d, " knob ", 5, Date{2025, 3, 1});
  CHECK(d.entries[0].pieces == 7);
  add_pieces(d, "relay", 4, Date{2026, 1, 1}, "new");
  CHECK(same(d.entries[1], {"relay", 4, Date{2026, 1, 1}, "new", {"B"}}));
  add_pieces(d, "knob", 1, Date{2025, 3, 2});
  add_pieces(d, "knob", 1, Date{2025, 3, 1}, "blue");
  add_pieces(d, "Knob", 1);
  CHECK(
      drawer_csv(d) ==
      "candidate,pieces,since,note,box\nknob,7,2025-03-01,,A\nrelay,4,2026-01-01,new,B\nknob,1,2025-03-02,,\n"
      "knob,1,2025-03-01,blue,\nKnob,1,,,\n");
  CHECK(pieces_of(d, "knob ") == 9);
  CHECK(pieces_of(d, "switch") == 0);
  CHECK(problems_of([&] {
          add_pieces(d, "knob", 999'994, Date{2025, 3, 1});
        }) == Lines{"drawer.csv: error: with 999994 more there would be 1000001 pieces of 'knob'; at most "
                    "1000000 are counted "
                    "in one row"});
  CHECK(d.entries[0].pieces == 7);
  CHECK_THROWS_AS(add_pieces(d, "knob", 0), std::invalid_argument);
  CHECK_THROWS_AS(add_pieces(d, " ", 1), std::invalid_argument);
  CHECK_THROWS_AS(add_pieces(d, "\xFF", 1), std::invalid_argument);
  CHECK_THROWS_AS(take_pieces(d, "knob", -1), std::invalid_argument);
}

TEST_CASE("drawer: the oldest pieces are taken first, those of unknown age before all others") {
  const auto after = [](int taken) {
    Drawer d = read(two_dates);
    take_pieces(d, "knob", taken);
    return drawer_csv(d);
  };
  const std::string header = "candidate,pieces,since,note,box\n";
  CHECK(after(3) == header + "knob,2,2025-03-01,new,A\nrelay,1,,,B\nknob,3,2024-01-01,,C\nknob,1,,,D\n");
  CHECK(after(4) == header + "knob,2,2025-03-01,new,A\nrelay,1,,,B\nknob,3,2024-01-01,,C\n");
  CHECK(after(6) == header + "knob,2,2025-03-01,new,A\nrelay,1,,,B\nknob,1,2024-01-01,,C\n");
  CHECK(after(8) == header + "knob,1,2025-03-01,new,A\nrelay,1,,,B\n");
  // The last row of a name stays: it says where the next ones go.
  CHECK(after(9) == header + "knob,0,2025-03-01,new,A\nrelay,1,,,B\n");
}

TEST_CASE("drawer: taking more than there is changes nothing and says what there is") {
  Drawer d = read("candidate,pieces\nbutton 6x6,2\nbutton 6x6,1\nbutton 6x7,5\nrelay,1\n");
  const std::string before = drawer_csv(d);
  const auto take = [&](const std::string& name, int pieces) {
    return problems_of([&] { take_pieces(d, name, pieces); });
  };
  CHECK(take("button 6x6", 4) == Lines{"drawer.csv: error: there are 3 pieces of 'button 6x6', not 4 (did "
                                       "you mean 'button 6x7' (5 pieces)?)"});
  CHECK(take("buton 6x6", 1) ==
        Lines{"drawer.csv: error: there is no 'buton 6x6' in the drawer (did you mean 'button "
              "6x6' (3 pieces) or 'button 6x7' (5 pieces)?)"});
  CHECK(take("relay", 2) == Lines{"drawer.csv: error: there is 1 piece of 'relay', not 2"});
  CHECK(take("lamp", 1) ==
        Lines{"drawer.csv: error: there is no 'lamp' in the drawer (known are: button 6x6, button "
              "6x7, relay)"});
  CHECK(drawer_csv(d) == before);
}

TEST_CASE("drawer: any course of adding and taking keeps the count") {
  Dice dice(7);
  const Lines names = {"a", "b", "c, \"d\""};
  Drawer d;
  std::vector<long long> there(names.size(), 0);
  for (int i = 0; i < 2000; ++i) {
    const std::size_t which = dice.below(names.size());
    const int pieces = 1 + static_cast<int>(dice.below(9));
    if (dice.below(2) == 0) {
      add_pieces(d, names[which], pieces, Date{2025, 1, 1 + static_cast<int>(dice.below(28))});
      there[which] += pieces;
    } else if (there[which] >= pieces) {
      take_pieces(d, names[which], pieces);
      there[which] -= pieces;
    } else {
      CHECK_THROWS_AS(take_pieces(d, names[which], pieces), InputError);
    }
    if (i % 100 == 0) d = through_file(d);
    for (std::size_t k = 0; k < names.size(); ++k) CHECK(pieces_of(d, names[k]) == there[k]);
  }
}

TEST_CASE("drawer: laid beside a case it gives each candidate its pieces") {
  Case c = case_with({{"button", {"button 6x6", "button 6x6, long"}}, {"relay", {"relay"}}, {"bulb", {}}});
  c.parts[1].candidates[0].on_hand = 5;
  const Drawer d = read("candidate,pieces\nbutton 6x6,3\nbutton 6x6,4\nlamp,9\nbulb,2\n");
  CHECK(lay_out(d, c) == Lines{});
  CHECK(c.parts[0].candidates[0].on_hand == 7);
  CHECK(c.parts[0].candidates[1].on_hand == 0);
  CHECK(c.parts[1].candidates[0].on_hand == 5);
  CHECK(lay_out(read("candidate,pieces\nrelay,0\n"), c) == Lines{});
  CHECK(c.parts[1].candidates[0].on_hand == 0);
}

TEST_CASE("drawer: what is nearly named by a case is asked about, and not counted") {
  const auto notes = [](const std::string& row) {
    Case c = case_with({{"button", {"button 6x6", "button 6x6 long"}}, {"knob", {"Knob"}}});
    const Lines said = lay_out(read("candidate,pieces\n" + row + "\n"), c);
    for (const Part& part : c.parts) {
      for (const Candidate& candidate : part.candidates) CHECK(candidate.on_hand == 0);
    }
    return said;
  };
  CHECK(notes("buton 6x6,3") == Lines{"The drawer's 'buton 6x6' (3 pieces) is not counted: the case has no "
                                      "such candidate. Did you mean 'button 6x6'?"});
  CHECK(notes("knob,1").size() == 1);
  CHECK(notes("button 6x7,3") == Lines{});  // another size is another part
  CHECK(notes("buton 6x6,0") == Lines{});
  CHECK(notes("lamp,3") == Lines{});
  CHECK(notes("button,1") ==
        Lines{"The drawer's 'button' (1 piece) is not counted: it is a part of the case, and none of its "
              "candidates. Did you mean 'button 6x6' or 'button 6x6 long'?"});
}

TEST_CASE("drawer: a name that serves several parts is said") {
  Case c = case_with({{"up", {"button"}}, {"down", {"button"}}});
  CHECK(
      lay_out(read("candidate,pieces\nbutton,3\n"), c) ==
      Lines{"The drawer's 'button' (3 pieces) may serve as 'up' and as 'down': each part counts all of it."});
  CHECK(c.parts[0].candidates[0].on_hand == 3);
  CHECK(c.parts[1].candidates[0].on_hand == 3);
}
