#include "input/suggest.hpp"

#include <algorithm>

namespace mendworth::input {

namespace {

/// Longer names are not compared: nobody misspells that much.
constexpr std::size_t longest_compared = 64;
constexpr std::size_t longest_list = 70;  ///< characters of a list of known names

std::string folded(std::string_view text) {
  std::string out(text);
  for (char& c : out) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    if (c == '_' || c == ' ') c = '-';
  }
  return out;
}

/// The only known name that begins with what was written; absent if there are several, or if it is very short.
std::optional<std::string> only_completion(std::string_view beginning,
                                           const std::vector<std::string>& known) {
  constexpr std::size_t shortest = 4;
  if (beginning.size() < shortest) return std::nullopt;
  std::optional<std::string> only;
  for (const std::string& name : known) {
    if (folded(name).rfind(folded(beginning), 0) != 0) continue;
    if (only) return std::nullopt;
    only = name;
  }
  return only;
}

}  // namespace

std::size_t edit_distance(std::string_view a_text, std::string_view b_text) {
  const std::string a = folded(a_text);
  const std::string b = folded(b_text);
  std::vector<std::size_t> before_last(b.size() + 1);
  std::vector<std::size_t> last(b.size() + 1);
  std::vector<std::size_t> row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) row[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    before_last.swap(last);
    last.swap(row);
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t change = a[i - 1] == b[j - 1] ? 0U : 1U;
      row[j] = std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + change});
      const bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
      if (swapped) row[j] = std::min(row[j], before_last[j - 2] + 1);
    }
  }
  return row[b.size()];
}

std::optional<std::string> nearest(std::string_view misspelt, const std::vector<std::string>& known) {
  if (misspelt.size() > longest_compared) return std::nullopt;
  std::optional<std::string> best;
  std::size_t best_distance = 0;
  for (const std::string& name : known) {
    const std::size_t shorter = std::min(name.size(), misspelt.size());
    const std::size_t allowed = shorter <= 5 ? 1 : std::max<std::size_t>(2, shorter / 3);
    const std::size_t longer = std::max(name.size(), misspelt.size());
    if (longer - shorter > allowed) continue;
    const std::size_t distance = edit_distance(misspelt, name);
    if (distance > allowed || distance >= longer) continue;
    if (!best || distance < best_distance) {
      best = name;
      best_distance = distance;
    }
  }
  return best;
}

std::string suggestion(std::string_view misspelt, const std::vector<std::string>& known,
                       const std::string& otherwise) {
  std::optional<std::string> meant = nearest(misspelt, known);
  if (!meant) meant = only_completion(misspelt, known);
  if (meant) return "did you mean '" + *meant + "'?";
  std::string list;
  for (const std::string& name : known) list += (list.empty() ? "" : ", ") + name;
  if (!list.empty() && list.size() <= longest_list) return "known are: " + list;
  return otherwise;
}

}  // namespace mendworth::input
