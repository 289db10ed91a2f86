package web

import "net/http"

// route lists every address of the program, by noun.
func (s *server) route(mux *http.ServeMux) {
	s.atTheMachine(mux)
	mux.HandleFunc("GET /{$}", s.showNow)
	mux.HandleFunc("GET /live", s.live)
	mux.HandleFunc("GET /assets/", serveAsset)
	mux.HandleFunc("GET "+workerPath, s.serveWorker)
	mux.HandleFunc("GET "+offlinePath, s.showOffline)

	mux.HandleFunc("GET /start", s.showStart)
	mux.HandleFunc("GET /start/{stage}", s.showStage)
	mux.HandleFunc("POST /start/{stage}", s.postStage)

	mux.HandleFunc("GET /stock", s.showStock)
	mux.HandleFunc("GET /stock/{lot}", s.showLot)
	mux.HandleFunc("GET /stock/{lot}/age/{file}", s.downloadAge)
	mux.HandleFunc("GET /stock/{lot}/family", s.showFamily)
	mux.HandleFunc("GET /stock/{lot}/family/{file}", s.downloadFamily)
	mux.HandleFunc("GET /stock/{lot}/sieve/{record}", s.showSieving)
	mux.HandleFunc("GET /stock/{lot}/sieve/{record}/{chart}", s.downloadSieving)
	mux.Handle("GET /stock/new", http.RedirectHandler("/record/take-in", http.StatusSeeOther))
	mux.HandleFunc("GET /record/{what}", s.showSheet)
	mux.HandleFunc("POST /record/{what}", s.postSheet)
	mux.HandleFunc("POST /record/sieve/table", s.postTable)
	mux.HandleFunc("POST /record/colour/table", s.postCurve)

	s.routeInAndOut(mux)
	mux.HandleFunc("GET /records", s.showRecords)
	mux.HandleFunc("GET /records/{id}", s.showRecord)
	mux.HandleFunc("GET /records/{id}/picture.jpg", s.showKeptPicture)
	mux.HandleFunc("GET /records/{id}/correct", s.showCorrection)
	mux.HandleFunc("POST /records/{id}/correct", s.postCorrection)
	mux.HandleFunc("POST /records/{id}/void", s.postVoid)
	mux.HandleFunc("POST /records/{id}/confirm", s.postConfirmed)

	mux.HandleFunc("GET /plan", s.showNeeds)
	mux.HandleFunc("POST /plan", s.postNeed)
	mux.HandleFunc("GET /plan/{need}", s.showPlan)
	mux.HandleFunc("GET /plan/{need}/{chart}", s.downloadChart)

	s.routeRun(mux)
	s.routeSensors(mux)

	mux.HandleFunc("GET /blend", s.showBlends)
	mux.HandleFunc("GET /blend/{need}", s.showBlend)
	mux.HandleFunc("GET /blend/{need}/sheet", s.showBatch)
	mux.HandleFunc("GET /blend/{need}/weigh", s.showWeighing)

	mux.HandleFunc("GET /fit", s.showFits)
	mux.HandleFunc("GET /fit/{lot}/{need}", s.showFit)
	mux.HandleFunc("GET /fit/{lot}/{need}/{chart}", s.downloadFit)
	mux.HandleFunc("GET /dry/{lot}", s.showDrying)
	mux.HandleFunc("GET /dry/{lot}/{chart}", s.downloadDrying)

	mux.HandleFunc("GET /machines", s.showMachines)
	mux.HandleFunc("GET /machines/{mill}/learn", s.showLearning)
	mux.HandleFunc("GET /machines/{mill}/learn/{chart}", s.downloadWear)
	mux.HandleFunc("GET /materials", s.showMaterials)
	mux.HandleFunc("GET /materials/{name}", s.showMaterial)

	mux.HandleFunc("GET /identify", s.showPiece)
	mux.HandleFunc("GET /identify/liquid", s.showLiquid)
	mux.HandleFunc("GET /identify/mixed", s.showMixed)
	mux.HandleFunc("GET /identify/{lot}", s.showPiece)
	mux.HandleFunc("POST /identify/{lot}", s.postPiece)

	mux.HandleFunc("GET /reckon", s.showTopics)
	mux.HandleFunc("GET /reckon/{topic}", s.showTopic)
	mux.HandleFunc("GET /reckon/{topic}/{chart}", s.downloadTopic)

	s.routeWho(mux)
	s.apiRoutes(mux)
	mux.HandleFunc("/", s.showMissing)
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
	mux.HandleFunc("GET /run", s.showRuns)
	mux.HandleFunc("POST /run", s.postRun)
	mux.HandleFunc("GET /run/clock", s.showClock)
	mux.HandleFunc("GET /run/{campaign}", s.showRun)
	mux.HandleFunc("POST /run/{campaign}/mark", s.postMark)
	mux.HandleFunc("POST /run/{campaign}/charge", s.postCharge)
}

// routeInAndOut lists the addresses of what comes in and goes out whole.
func (s *server) routeInAndOut(mux *http.ServeMux) {
	mux.HandleFunc("GET /photo", s.showPhoto)
	mux.HandleFunc("POST /photo", s.postPhoto)
	mux.HandleFunc("GET /labels", s.showLabels)
	mux.HandleFunc("GET /labels.pdf", s.showLabels)
	mux.HandleFunc("GET /export/{file}", s.downloadAll)
	mux.HandleFunc("GET /notebook", s.showNotebook)
	mux.HandleFunc("POST /notebook", s.postNotebook)
	mux.HandleFunc("GET /notebook/{file}", s.showOpenBook)
	mux.HandleFunc("POST /notebook/{file}", s.writeOpenBook)
}
