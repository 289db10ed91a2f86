package web

import (
	"net/http"

	"hopperful/internal/web/assets"
	"hopperful/internal/web/identify"
	"hopperful/internal/web/lots"
	"hopperful/internal/web/mills"
	"hopperful/internal/web/prints"
	"hopperful/internal/web/site"
)

// route lists every address of the program, by noun.
func (s *server) route(mux *http.ServeMux) {
	s.atTheMachine(mux)
	mux.HandleFunc("GET /{$}", s.showNow)
	mux.HandleFunc("GET /live", at(s.Site, site.Live))
	mux.HandleFunc("GET /assets/", assets.Serve)
	mux.HandleFunc("GET "+workerPath, s.serveWorker)
	mux.HandleFunc("GET "+offlinePath, s.showOffline)

	mux.HandleFunc("GET /start", at(s.Site, prints.ShowStart))
	mux.HandleFunc("GET /start/{stage}", at(s.Site, prints.ShowStage))
	mux.HandleFunc("POST /start/{stage}", at(s.Site, prints.PostStage))

	mux.HandleFunc("GET /stock", at(s.Site, lots.ShowStock))
	mux.HandleFunc("GET /stock/{lot}", at(s.Site, lots.ShowLot))
	mux.HandleFunc("GET /stock/{lot}/age/{file}", at(s.Site, lots.DownloadAge))
	mux.HandleFunc("GET /stock/{lot}/family", at(s.Site, lots.ShowFamily))
	mux.HandleFunc("GET /stock/{lot}/family/{file}", at(s.Site, lots.DownloadFamily))
	mux.HandleFunc("GET /stock/{lot}/sieve/{record}", s.showSieving)
	mux.HandleFunc("GET /stock/{lot}/sieve/{record}/{chart}", s.downloadSieving)
	mux.Handle("GET /stock/new", http.RedirectHandler("/record/take-in", http.StatusSeeOther))
	mux.HandleFunc("GET /record/{what}", s.showSheet)
	mux.HandleFunc("POST /record/{what}", s.postSheet)
	mux.HandleFunc("POST /record/sieve/table", s.postTable)
	mux.HandleFunc("POST /record/colour/table", s.postCurve)

	s.routeInAndOut(mux)
	mux.HandleFunc("GET /records", at(s.Site, lots.ShowRecords))
	mux.HandleFunc("GET /records/{id}", at(s.Site, lots.ShowRecord))
	mux.HandleFunc("GET /records/{id}/picture.jpg", s.showKeptPicture)
	mux.HandleFunc("GET /records/{id}/correct", at(s.Site, lots.ShowCorrection))
	mux.HandleFunc("POST /records/{id}/correct", at(s.Site, lots.PostCorrection))
	mux.HandleFunc("POST /records/{id}/void", at(s.Site, lots.PostVoid))
	mux.HandleFunc("POST /records/{id}/confirm", at(s.Site, site.PostConfirmed))

	mux.HandleFunc("GET /plan", at(s.Site, prints.ShowNeeds))
	mux.HandleFunc("POST /plan", at(s.Site, prints.PostNeed))
	mux.HandleFunc("GET /plan/{need}", at(s.Site, prints.ShowPlan))
	mux.HandleFunc("GET /plan/{need}/{chart}", at(s.Site, prints.DownloadChart))

	s.routeRun(mux)
	s.routeSensors(mux)

	mux.HandleFunc("GET /blend", at(s.Site, prints.ShowBlends))
	mux.HandleFunc("GET /blend/{need}", at(s.Site, prints.ShowBlend))
	mux.HandleFunc("GET /blend/{need}/sheet", at(s.Site, prints.ShowBatch))
	mux.HandleFunc("GET /blend/{need}/weigh", at(s.Site, prints.ShowWeighing))

	mux.HandleFunc("GET /fit", at(s.Site, prints.ShowFits))
	mux.HandleFunc("GET /fit/{lot}/{need}", at(s.Site, prints.ShowFit))
	mux.HandleFunc("GET /fit/{lot}/{need}/{chart}", at(s.Site, prints.DownloadFit))
	mux.HandleFunc("GET /dry/{lot}", at(s.Site, prints.ShowDrying))
	mux.HandleFunc("GET /dry/{lot}/{chart}", at(s.Site, prints.DownloadDrying))

	mux.HandleFunc("GET /machines", s.showMachines)
	mux.HandleFunc("GET /machines/{mill}/learn", at(s.Site, mills.ShowLearning))
	mux.HandleFunc("GET /machines/{mill}/learn/{chart}", at(s.Site, mills.DownloadWear))
	mux.HandleFunc("GET /materials", at(s.Site, lots.ShowMaterials))
	mux.HandleFunc("GET /materials/{name}", at(s.Site, lots.ShowMaterial))

	mux.HandleFunc("GET /identify", at(s.Site, identify.ShowPiece))
	mux.HandleFunc("GET /identify/liquid", at(s.Site, identify.ShowLiquid))
	mux.HandleFunc("GET /identify/mixed", at(s.Site, identify.ShowMixed))
	mux.HandleFunc("GET /identify/{lot}", at(s.Site, identify.ShowPiece))
	mux.HandleFunc("POST /identify/{lot}", at(s.Site, identify.PostPiece))

	mux.HandleFunc("GET /reckon", s.showTopics)
	mux.HandleFunc("GET /reckon/{topic}", s.showTopic)
	mux.HandleFunc("GET /reckon/{topic}/{chart}", s.downloadTopic)

	s.routeWho(mux)
	s.apiRoutes(mux)
	mux.HandleFunc("/", s.ShowMissing)
}

// atTheMachine are the pages of grains photographed and of a mill's parts.
func (s *server) atTheMachine(mux *http.ServeMux) {
	mux.HandleFunc("GET /stock/{lot}/grains", s.showGrains)
	mux.HandleFunc("POST /stock/{lot}/grains", s.postGrains)
	mux.HandleFunc("GET /stock/{lot}/grains/{key}", s.showSpread)
	mux.HandleFunc("POST /stock/{lot}/grains/{key}", s.postSpread)
	mux.HandleFunc("POST /stock/{lot}/grains/{key}/keep", s.postKept)
	mux.HandleFunc("GET /stock/{lot}/grains/{key}/{picture}", s.showGrainPicture)
	mux.HandleFunc("GET /grains/sheet", s.showGrainSheet)
	mux.HandleFunc("GET /grains/sheet.pdf", s.showGrainSheet)
	mux.HandleFunc("GET /machines/{mill}/upkeep", s.showUpkeep)
	mux.HandleFunc("GET /dose", s.showDose)
	mux.HandleFunc("GET /books", s.showBooks)
	mux.HandleFunc("GET /stock/{lot}/books", s.showLotBooks)
}

// routeWho lists the addresses of who is in, and of who may be.
func (s *server) routeWho(mux *http.ServeMux) {
	mux.HandleFunc("GET /login", s.showLogin)
	mux.HandleFunc("POST /login", s.postLogin)
	mux.HandleFunc("POST /logout", s.postLogout)
	mux.HandleFunc("GET /devices", s.showDevices)
	mux.HandleFunc("POST /devices", s.postDevices)
	mux.HandleFunc("GET "+tokensPath, withoutAccounts(s.showTokens))
	mux.HandleFunc("POST "+tokensPath, withoutAccounts(s.postTokens))
	mux.HandleFunc("POST "+tokensPath+"/{id}/revoke", withoutAccounts(s.postRevoked))
	mux.HandleFunc("GET /accounts", s.showAccounts)
	mux.HandleFunc("POST /accounts", s.postAccounts)
}

// routeRun lists the addresses of the page beside the mill.
func (s *server) routeRun(mux *http.ServeMux) {
	mux.HandleFunc("GET /run", at(s.Site, mills.ShowRuns))
	mux.HandleFunc("POST /run", at(s.Site, mills.PostRun))
	mux.HandleFunc("GET /run/clock", at(s.Site, mills.ShowClock))
	mux.HandleFunc("GET /run/{campaign}", at(s.Site, mills.ShowRun))
	mux.HandleFunc("POST /run/{campaign}/mark", at(s.Site, mills.PostMark))
	mux.HandleFunc("POST /run/{campaign}/charge", at(s.Site, mills.PostCharge))
}

// routeInAndOut lists the addresses of what comes in and goes out whole.
func (s *server) routeInAndOut(mux *http.ServeMux) {
	mux.HandleFunc("GET /photo", at(s.Site, lots.ShowPhoto))
	mux.HandleFunc("POST /photo", at(s.Site, lots.PostPhoto))
	mux.HandleFunc("GET /labels", at(s.Site, lots.ShowLabels))
	mux.HandleFunc("GET /labels.pdf", at(s.Site, lots.ShowLabels))
	mux.HandleFunc("GET /export/{file}", s.downloadAll)
	mux.HandleFunc("GET /notebook", s.showNotebook)
	mux.HandleFunc("POST /notebook", s.postNotebook)
	mux.HandleFunc("GET /notebook/{file}", s.showOpenBook)
	mux.HandleFunc("POST /notebook/{file}", s.writeOpenBook)
}

// routeSensors lists the addresses of what the sensors tell.
func (s *server) routeSensors(mux *http.ServeMux) {
	mux.HandleFunc("GET /sensors", at(s.Site, mills.ShowSensors))
	mux.HandleFunc("GET /sensors/live", at(s.Site, mills.StreamSensors))
	mux.HandleFunc("GET /sensors/runs/{id}", at(s.Site, mills.ShowSeenRun))
	mux.HandleFunc("POST /sensors/runs/{id}", at(s.Site, mills.PostSeenRun))
	mux.HandleFunc("POST /sensors/runs/{id}/aside", at(s.Site, mills.PostAside))
	mux.HandleFunc("POST /sensors/runs/{id}/idle", at(s.Site, mills.PostIdle))
	mux.HandleFunc("POST /sensors/watts", at(s.Site, mills.PostWatts))
}
