#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "input/questions.hpp"

namespace mendworth::input {

namespace {

constexpr double days_a_year = 365.25;
/// A range that is given for what is not known ends so many times below and above its middle.
constexpr double not_known_factor = 4;

double two_digits(double value) {
  if (value == 0) return 0;
  const double unit = std::pow(10.0, std::floor(std::log10(std::abs(value))) - 1);
  return std::round(value / unit) * unit;
}

/// Without the traces that binary fractions leave: 0.30000000000000004 is 0.3.
std::string toml_number(double value) { return fmt::format("{:.12g}", value); }

std::string toml(const Quantity& value) {
  if (value.is_fixed()) return toml_number(value.low());
  const bool two_points = value.spread() == Spread::uniform;
  return fmt::format("{{ low = {}, {}high = {} }}", toml_number(value.low()),
                     two_points ? "" : fmt::format("likely = {}, ", toml_number(value.likely())),
                     toml_number(value.high()));
}

std::string toml_text(const std::string& text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') out += '\\';
    out += c;
  }
  return out + '"';
}

std::string name_in_words(std::string name) {
  std::replace(name.begin(), name.end(), '-', ' ');
  return name;
}

Quantity around(double middle, const Limits& limits) {
  const auto within = [&](double value) { return std::clamp(two_digits(value), limits.low, limits.high); };
  return Quantity::three_point(within(middle / not_known_factor), within(middle),
                               within(middle * not_known_factor));
}

/// Minutes of a whole repair shared out as the trade figures share it.
struct Work {
  Quantity case_minutes, visit_minutes, position_minutes;
};

class CaseText {
 public:
  explicit CaseText(const Answers& answers) : answers_(answers), rates_(answers.rates()) {}

  std::string text() {
    text_ =
        "# A case for mendworth, made from the answers to 'mendworth ask'. Change what you know better; a "
        "number may\n"
        "# be a range: { low = 2, high = 6 } or { low = 2, likely = 4, high = 9 }. 'mendworth new "
        "--every-key' shows\n"
        "# all there is to say. (usual): nothing was said, so this was taken.\n";
    write_device();
    write_position();
    write_part();
    write_labour();
    write_replacement();
    return text_;
  }

 private:
  [[nodiscard]] bool known(std::string_view key) const { return answers_.text(key) != not_known; }
  [[nodiscard]] Quantity amount(std::string_view key) const { return amount_of(answers_.text(key)).value(); }

  void section(const char* head) { text_ += fmt::format("\n{}\n", head); }

  /// The comment stands behind the value, or before the line where that would be too long.
  void line(const std::string& key, const std::string& value, const std::string& words = "") {
    constexpr std::size_t comments_from = 30, longest_line = 118;
    std::string written = fmt::format("{} = {}", key, value);
    if (!words.empty()) {
      const std::size_t width = std::max(written.size(), comments_from);
      if (width + words.size() + 4 > longest_line) {
        comment(words);
      } else {
        written.resize(width, ' ');
        written += "  # " + words;
      }
    }
    text_ += written + '\n';
  }

  void comment(const std::string& words) { text_ += "# " + words + '\n'; }

  /// What a line says of the answer to a question.
  [[nodiscard]] std::string note(std::string_view key, const std::string& words) const {
    const Question& question = *find_question(key);
    if (!known(key)) return fmt::format("not known: {}", question.unknown);
    return answers_.has(question) ? words : words + (words.empty() ? "(usual)" : " (usual)");
  }

  void answered(const std::string& key, std::string_view question, const std::string& words) {
    line(key, toml(amount(question)), note(question, words));
  }

  [[nodiscard]] const Quantity& life_of_kind() const {
    const std::string kind = known("kind") ? answers_.text("kind") : "other";
    return rates_.device_kinds.at(kind).value;
  }

  /// Mean life in years of a device such as this.
  [[nodiscard]] Quantity device_life() const { return known("life") ? amount("life") : life_of_kind(); }

  [[nodiscard]] Quantity age() const {
    if (known("age")) return amount("age");
    const double life = device_life().base();
    const auto within = [](double years) {
      return std::clamp(two_digits(years), limits::years.low, limits::years.high);
    };
    return Quantity::three_point(within(life / 6), within(life / 2), within(life * 1.5));
  }

  /// As often, or as long, a day as wears a part out by now.
  [[nodiscard]] Quantity wearing_use(const Limits& limits) const {
    const double life = rates_.lives.at(answers_.text("class")).life.rated_life.base();
    return around(life / (days_a_year * age().base()), limits);
  }

  void write_device() {
    section("[device]");
    const std::string kind = known("kind") ? answers_.text("kind") : "other";
    const std::string called = kind == "other" ? "device" : name_in_words(kind);
    line("name", toml_text(known("name") ? answers_.text("name") : called));
    // A kind speaks of the life, which is known better from a new one.
    if (!known("life")) line("kind", toml_text(kind), note("kind", "gives how long such a device lasts"));
    line("currency", toml_text(answers_.text("currency")), note("currency", "of all amounts"));
    line("age_years", toml(age()), note("age", ""));
    if (answers_.applies(*find_question("use")))
      line("use_per_day", toml(known("use") ? amount("use") : wearing_use(limits::use_per_day)),
           note("use", "of the busiest one, on an average day"));
    if (answers_.applies(*find_question("hours")))
      line("hours_per_day", toml(known("hours") ? amount("hours") : wearing_use(limits::hours_per_day)),
           note("hours", "on, on an average day"));
    line("hazards", hazard_list(), note("hazards", "'mendworth rates' lists the classes"));
  }

  [[nodiscard]] std::string hazard_list() const {
    std::string names = answers_.text("hazards");
    if (names == "none") return "[]";
    std::string list = "[\"";
    for (const char c : names) {
      if (c == ',') {
        list += "\",";
      } else if (c == ' ') {
        list += " \"";
      } else {
        list += c;
      }
    }
    return list + "\"]";
  }

  void write_position() {
    section("[[position]]                    # where the parts sit that are alike");
    const std::string part = name_in_words(answers_.text("class"));
    line("name", toml_text(part));
    line("part", toml_text(part));
    answered("count", "alike", "alike and as much used, failed ones included");
    answered("failed", "failed", "of these");
    if (known("attached")) line("termination", toml_text(answers_.text("attached")), "how it is attached");
    if (known("minutes"))
      line("minutes", toml(work().position_minutes), "of the whole work, for one: take off, clean, fit");
  }

  void write_part() {
    section("[[part]]");
    line("name", toml_text(name_in_words(answers_.text("class"))));
    line("class", toml_text(answers_.text("class")), note("class", "'mendworth rates' lists the classes"));
    text_ += "[[part.offer]]\n";
    answered("price", "part", "of one, with tax");
    section("[[supplier]]");
    line("name", "\"parts by post\"");
    answered("shipping", "shipping", "of an order");
  }

  void write_labour() {
    section("[labour]");
    answered("rate_per_hour", "hour", "0 if own time counts as free");
    if (known("skill")) line("skill", toml_text(answers_.text("skill")), "whose work it is");
    if (!known("minutes")) {
      comment("minutes " + note("minutes", "") + "; state them here");
      return;
    }
    comment(fmt::format(
        "{} minutes in all, {}, shared out as the trade figures share them:", answers_.text("minutes"),
        amount("failed").low() > 1 ? "with the failed positions" : "with the failed position"));
    line("case_minutes", toml(work().case_minutes), "once: find the fault, find and order the part");
    line("visit_minutes", toml(work().visit_minutes), "per opening: open, clean, test, close, hand over");
  }

  void write_replacement() {
    section("[[replacement]]");
    line("name", "\"a new one\"");
    if (known("new")) {
      answered("price", "new", "all in");
    } else {
      line("price", "\"unknown\"", note("new", ""));
    }
    line("life_years", toml(device_life()), note("life", "on average"));
    line("alike", "true", "the device itself lasts as long, from new");
  }

  [[nodiscard]] double minutes_of(const char* key) const {
    double sum = 0;
    for (const std::string& name : rates_.default_names.at(key).names)
      sum += rates_.operations.at(name).value.base();
    return sum;
  }

  [[nodiscard]] double minutes_of_position() const {
    const std::string name = known("attached")
                                 ? answers_.text("attached")
                                 : rates_.default_names.at("position.termination").names.front();
    const Termination& termination = rates_.terminations.at(name);
    return termination.remove_minutes.base() + termination.clean_minutes.base() +
           termination.fit_minutes.base();
  }

  /// Each point of the whole is shared out by itself, and the shares of a point add up to it.
  [[nodiscard]] Work work() const {
    const double failed = amount("failed").low();
    const double once = minutes_of("labour.case_minutes");
    const double visit = minutes_of("labour.visit_minutes");
    const double each = minutes_of_position();
    const Quantity whole = amount("minutes");
    std::array<std::array<double, 3>, 3> shares{};  // of the case, the visit, a position; by point
    const std::array points = {whole.low(), whole.likely(), whole.high()};
    for (std::size_t i = 0; i < points.size(); ++i) {
      const double part = points[i] / (once + visit + failed * each);
      shares[0][i] = whole_tenths(once * part);
      shares[2][i] = whole_tenths(each * part);
      const double rest = points[i] - shares[0][i] - failed * shares[2][i];
      shares[1][i] = std::max(std::round(rest * 1000) / 1000, i > 0 ? shares[1][i - 1] : 0.0);
    }
    const auto quantity = [&](const std::array<double, 3>& share) {
      if (whole.is_fixed()) return Quantity::exactly(share[0]);
      if (whole.spread() == Spread::uniform) return Quantity::between(share[0], share[2]);
      return Quantity::three_point(share[0], share[1], share[2]);
    };
    return {quantity(shares[0]), quantity(shares[1]), quantity(shares[2])};
  }

  /// Rounded down, so that something is left for the visit.
  static double whole_tenths(double minutes) { return std::floor(minutes * 10) / 10; }

  const Answers& answers_;
  const RateBook& rates_;
  std::string text_;
};

}  // namespace

std::string case_text(const Answers& answers) { return CaseText(answers).text(); }

}  // namespace mendworth::input
