#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "domain/limits.hpp"
#include "mendworth/rates.hpp"

/// The questions of 'mendworth ask', in one table: each is an option of the command, and most are asked at a terminal.
namespace mendworth::input {

struct Question {
  enum class Form {
    name,     ///< a text
    choice,   ///< one name of the rates
    choices,  ///< any number of them, or "none"
    whole,    ///< a whole number from 1 on
    amount,   ///< a number, or a range: "2..6", "2..4..9", "2 to 6"
  };
  const char* key;    ///< of the option and in the dialogue: "part"
  const char* words;  ///< the question
  const char* unit;   ///< "" for none; `money_unit` for the currency that is answered
  Form form;
  Limits limits;        ///< of a whole number or an amount
  const char* usual;    ///< what is taken if nothing is said; "": it must be said
  const char* unknown;  ///< what "unknown" stands for; "": whoever asks can know it, or find it out
  bool asked;           ///< in the dialogue; else an option alone
  const char* help;     ///< a sentence or two
};

inline constexpr const char* money_unit = "money";
inline constexpr const char* not_known = "unknown";

/// In the order in which they are asked.
[[nodiscard]] const std::vector<Question>& questions();
/// Null if there is none of this key.
[[nodiscard]] const Question* find_question(std::string_view key);

/// What was said so far. Every answer in it is within its limits by itself.
class Answers {
 public:
  /// The rates must outlive it.
  explicit Answers(const RateBook& rates) : rates_(&rates) {}

  /// Takes an answer; empty if it will do, else what is allowed: "wants a number from 0 to 1000".
  [[nodiscard]] std::string give(const Question& question, std::string_view answer);
  void forget(const Question& question) { given_.erase(question.key); }
  [[nodiscard]] bool has(const Question& question) const { return given_.count(question.key) > 0; }

  /// What was said, or else what is usual; empty if it must be said.
  [[nodiscard]] std::string text(const Question& question) const;
  [[nodiscard]] std::string text(std::string_view key) const;
  /// What is taken if nothing is said. Usual amounts of money are in EUR and hold for no other currency.
  [[nodiscard]] std::string usual(const Question& question) const;
  /// The unit in words, the currency for money.
  [[nodiscard]] std::string unit(const Question& question) const;
  /// Whether the question arises: a life in cycles asks how often, one in hours how long.
  [[nodiscard]] bool applies(const Question& question) const;
  /// The names to choose from; empty where none are.
  [[nodiscard]] std::vector<std::string> names(const Question& question) const;

  struct Trouble {
    const Question* question;
    std::string problem;
  };
  /// The first question that still needs another answer: none at all, or one that does not go with the others.
  [[nodiscard]] std::optional<Trouble> trouble() const;

  [[nodiscard]] const RateBook& rates() const noexcept { return *rates_; }

 private:
  [[nodiscard]] std::optional<std::string> name_meant(const Question& question, std::string_view word) const;
  [[nodiscard]] std::string take_choices(const Question& question, std::string_view answer);

  const RateBook* rates_;
  std::map<std::string, std::string, std::less<>> given_;
};

/// A number as it is answered: "2", "2..6", "2..4..9", "2 to 6". Absent if the text is anything else.
[[nodiscard]] std::optional<Quantity> amount_of(std::string_view text);

/// The commented case that the answers make; read_case takes it. There must be no trouble.
[[nodiscard]] std::string case_text(const Answers& answers);

}  // namespace mendworth::input
