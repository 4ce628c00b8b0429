#include "input/suggest.hpp"

#include <algorithm>

#include "domain/inputs.hpp"

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

std::string listed(const std::vector<std::string>& names) {
  std::string list;
  for (const std::string& name : names) list += (list.empty() ? "" : ", ") + name;
  return list;
}

/// What people call things that the rates have other names for.
struct Called {
  const char* word;
  std::vector<const char*> names;
};

const std::vector<Called>& called() {
  static const std::vector<Called> words = {
      {"button", {"tactile-switch", "rubber-dome", "membrane-key"}},
      {"push-button", {"tactile-switch", "rubber-dome", "membrane-key"}},
      {"key", {"tactile-switch", "rubber-dome", "membrane-key"}},
      {"keyboard", {"rubber-dome", "membrane-key", "desktop-device"}},
      {"pushbutton", {"tactile-switch", "rubber-dome", "membrane-key"}},
      {"microswitch", {"snap-action-switch"}},
      {"power-switch", {"rocker-switch", "toggle-switch", "slide-switch"}},
      {"knob", {"rotary-encoder", "carbon-potentiometer", "conductive-potentiometer"}},
      {"dial", {"rotary-encoder", "carbon-potentiometer"}},
      {"pot", {"carbon-potentiometer", "conductive-potentiometer", "slide-potentiometer"}},
      {"volume", {"rotary-encoder", "carbon-potentiometer"}},
      {"fader", {"slide-potentiometer", "studio-slide-potentiometer"}},
      {"slider", {"slide-potentiometer", "slide-switch"}},
      {"joystick", {"thumb-stick"}},
      {"stick", {"thumb-stick"}},
      {"socket", {"audio-jack", "barrel-socket", "usb-a-receptacle", "usb-c-receptacle"}},
      {"charging-port", {"usb-c-receptacle", "micro-usb-receptacle", "barrel-socket"}},
      {"port", {"usb-a-receptacle", "usb-c-receptacle", "micro-usb-receptacle", "usb-mini-receptacle"}},
      {"connector", {"flex-connector", "wire-to-board-connector"}},
      {"plug", {"audio-jack", "barrel-socket", "plug-in"}},
      {"ribbon", {"flex-connector"}},
      {"battery", {"lithium-cell"}},
      {"accumulator", {"lithium-cell"}},
      {"elco", {"electrolytic-capacitor"}},
      {"printer", {"office-machine"}},
      {"laptop", {"portable-computer"}},
      {"computer", {"desktop-device", "portable-computer"}},
      {"tablet", {"phone"}},
      {"game-controller", {"remote-control"}},
      {"synthesizer", {"instrument"}},
      {"amplifier", {"audio-device"}},
      {"turntable", {"audio-device"}},
      {"speaker", {"audio-device"}},
      {"headphones", {"audio-device"}},
      {"coffee-machine", {"kitchen-machine"}},
      {"kettle", {"kitchen-machine"}},
      {"drill", {"power-tool"}},
      {"electricity", {"mains", "fixed-mains-wiring"}},
      {"high-voltage", {"mains", "charged-capacitor"}},
      {"fumes", {"solder-fume"}},
      {"data", {"personal-data"}},
      {"amateur", {"careful-amateur"}},
      {"expert", {"professional"}},
      {"soldered", {"through-hole-4-leg", "through-hole-2-lead", "gull-wing"}},
      {"surface-mount", {"gull-wing", "gull-wing-fine-pitch", "leadless"}},
      {"smd", {"gull-wing", "gull-wing-fine-pitch", "leadless"}}};
  return words;
}

/// A key that is tried, by the path of its table, and what to write.
struct Tried {
  const char* path;
  const char* key;
  const char* instead;
};

constexpr Tried tried[] = {
    {"", "labor", "the section is [labour]"},
    {"", "work", "the section is [labour]"},
    {"", "repair", "the work stands under [labour], what was attached under [[position]]"},
    {"", "shipping", "write shipping under [[supplier]]"},
    {"", "price", "write price under [[part.offer]], or under [[replacement]] for a new device"},
    {"", "new", "a new device is a [[replacement]]"},
    {"", "new_device", "a new device is a [[replacement]]"},
    {"", "purchase", "a new device is a [[replacement]]"},
    {"", "hazards", "write hazards under [device]"},
    {"", "currency", "write currency = \"EUR\" under [device]"},
    {"", "offer", "an offer belongs to its part: [[part.offer]]"},
    {"", "candidate", "a candidate belongs to its part: [[part.candidate]]"},
    {"", "shop", "a shop stands in a file of its own: 'mendworth new --shop'"},
    {"", "warranty", "a shop's warranty is warranty_days under [terms]"},
    {"", "guarantee",
     "a shop's warranty is warranty_days under [terms]; a device's is guarantee_until under [device]"},
    {"shop", "name", "write letterhead = [\"name\", \"address\"], the first line being the name"},
    {"shop", "address", "it is a line of letterhead, after the name"},
    {"discount", "percent", "write share = 0.1 for 10 %"},
    {"discount", "rate", "write share = 0.1 for 10 %"},
    {"device", "age", "write age_years"},
    {"device", "years", "write age_years"},
    {"device", "bought", "write age_years, how old it is"},
    {"device", "use", "write use_per_day, or hours_per_day"},
    {"device", "usage", "write use_per_day, or hours_per_day"},
    {"device", "uses_per_day", "write use_per_day"},
    {"device", "presses_per_day", "write use_per_day"},
    {"device", "cycles_per_day", "write use_per_day"},
    {"device", "hours", "write hours_per_day"},
    {"device", "type", "write kind"},
    {"device", "class", "write kind; a class is that of a [[part]]"},
    {"device", "life", "write life_years"},
    {"device", "lifetime", "write life_years"},
    {"device", "hazard", "write hazards, a list of names"},
    {"device", "price", "write price under [[replacement]]; what was paid for the device plays no part"},
    {"device", "value", "write resale, for when the need ends, or keepsake"},
    {"device", "warranty_until", "write guarantee_until"},
    {"position", "parts", "write part, the name of one [[part]]"},
    {"position", "number", "write count"},
    {"position", "quantity", "write count"},
    {"position", "broken", "write failed"},
    {"position", "attached", "write termination"},
    {"position", "price", "write price under [[part.offer]]"},
    {"position", "hours", "write minutes, of hands-on work for one"},
    {"part", "price", "write price under [[part.offer]]"},
    {"part", "prices", "write prices under [[part.offer]]"},
    {"part", "cost", "write price under [[part.offer]]"},
    {"part", "offers", "write [[part.offer]]"},
    {"part", "candidates", "write [[part.candidate]]"},
    {"part", "supplier", "write supplier under [[part.offer]]"},
    {"part", "shipping", "write shipping under [[supplier]]"},
    {"part", "type", "write class"},
    {"part", "kind", "write class"},
    {"part", "life", "write rated_life and life_unit, or class"},
    {"part", "life_years", "write rated_life and life_unit = \"years\""},
    {"part", "count", "write count under [[position]]"},
    {"part", "failed", "write failed under [[position]]"},
    {"part.offer", "cost", "write price"},
    {"part.offer", "shipping", "write shipping under [[supplier]]"},
    {"part.offer", "minimum", "write least"},
    {"part.offer", "moq", "write least"},
    {"part.candidate", "price", "write price under [[part.candidate.offer]]"},
    {"supplier", "postage", "write shipping"},
    {"supplier", "delivery", "write shipping for its price, lead_days for its time"},
    {"supplier", "days", "write lead_days"},
    {"supplier", "vat", "write tax"},
    {"supplier", "minimum_order", "write low_order_below and low_order_fee"},
    {"labour", "hours", "write case_minutes, visit_minutes and position_minutes"},
    {"labour", "minutes", "write case_minutes, visit_minutes and position_minutes"},
    {"labour", "time", "write case_minutes, visit_minutes and position_minutes"},
    {"labour", "rate", "write rate_per_hour"},
    {"labour", "hourly_rate", "write rate_per_hour"},
    {"labour", "per_hour", "write rate_per_hour"},
    {"labour", "cost", "write rate_per_hour"},
    {"replacement", "cost", "write price"},
    {"replacement", "life", "write life_years"},
    {"replacement", "lifetime", "write life_years"},
    {"replacement", "years", "write life_years"},
    {"replacement", "vat", "write tax"},
    {"rest", "years", "write remaining_years"},
    {"rest", "life_years", "write remaining_years"},
    {"horizon", "rate", "write discount_rate"},
    {"horizon", "interest", "write discount_rate"},
    {"risk", "diagnosis", "write diagnosis_right"},
    {"downtime", "cost", "write per_day"},
};

}  // namespace

std::string key_meant(std::string_view path, std::string_view key) {
  const std::string table = without_numbers(path);
  const std::string wanted = folded(key);
  for (const Tried& entry : tried) {
    if (table == entry.path && wanted == folded(entry.key)) return entry.instead;
  }
  return "";
}

std::vector<std::string> related(std::string_view word, const std::vector<std::string>& known) {
  constexpr std::size_t most = 6, shortest = 3;
  const std::string wanted = folded(word);
  if (wanted.size() < shortest || wanted.size() > longest_compared) return {};
  std::vector<std::string> words;
  for (const Called& entry : called()) words.emplace_back(entry.word);
  const std::optional<std::string> meant = nearest(wanted, words);
  std::vector<std::string> out;
  for (const std::string& name : known) {
    bool is_related = folded(name).find(wanted) != std::string::npos;
    for (const Called& entry : called()) {
      const auto& names = entry.names;
      is_related = is_related || (meant == entry.word && std::ranges::find(names, name) != names.end());
    }
    if (is_related && out.size() < most) out.push_back(name);
  }
  return out;
}

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
  const std::string list = listed(known);
  if (!list.empty() && list.size() <= longest_list) return "known are: " + list;
  const std::string near = listed(related(misspelt, known));
  return near.empty() ? otherwise : "near are: " + near;
}

std::string with_suggestion(const std::string& problem, std::string_view misspelt,
                            const std::vector<std::string>& known) {
  const std::string hint = suggestion(misspelt, known);
  return hint.empty() ? problem : problem + "; " + hint;
}

}  // namespace mendworth::input
