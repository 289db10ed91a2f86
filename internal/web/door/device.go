package door

import "strings"

// DeviceOf is what a browser says it is, in two words. Browsers name others for
// the sake of old pages, so the more particular name is looked for first.
func DeviceOf(agent string) string {
	browser, system := "", ""
	for _, b := range [][2]string{{"Edg", "Edge"}, {"OPR/", "Opera"}, {"SamsungBrowser", "Samsung Internet"}, {"Firefox", "Firefox"}, {"FxiOS", "Firefox"},
		{"CriOS", "Chrome"}, {"Chrome", "Chrome"}, {"Safari", "Safari"}, {"curl/", "curl"}} {
		if strings.Contains(agent, b[0]) {
			browser = b[1]
			break
		}
	}
	for _, s := range [][2]string{{"Android", "Android"}, {"iPhone", "iPhone"}, {"iPad", "iPad"}, {"Windows", "Windows"}, {"Mac OS", "Mac"}, {"CrOS", "ChromeOS"}, {"Linux", "Linux"}} {
		if strings.Contains(agent, s[0]) {
			system = s[1]
			break
		}
	}
	return strings.TrimSpace(browser + " " + system)
}
